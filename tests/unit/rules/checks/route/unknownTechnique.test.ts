import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { expectMarked, findingsOf, fixed, plainRoute } from '../../marked.ts';

describe('unknown-technique', () => {
  const route = `game: Lanternfall
category: any%
segments:
  - id: harbor
    time: 1:30
    techniques:
      - ⟦crate-valt⟧
      - { use: ⟦lamp-clop⟧, backup: ⟦nothing-like-it⟧ }
      - lamp-clip
      - crate-vault
techniques:
  crate-vault: { difficulty: 3, saves: 3, needs: [⟦lamp-klip⟧] }
  lamp-clip: { difficulty: 3, saves: 3 }
`;

  it('is found in uses, backups and needs, with the nearest name as the fix', async () => {
    const findings = await expectMarked({ 'a.route.yaml': route }, 'unknown-technique');
    expect(findings.map(({ fix }) => fix?.text)).toEqual([
      'crate-vault',
      'lamp-clip',
      undefined,
      'lamp-clip',
    ]);
    expect(findings[0]?.message).toBe('No technique has the id `crate-valt`. Did you mean `crate-vault`?');
    expect(findings[2]?.message).toContain('Define it under `techniques`');
  });

  it('is found in every place of logs and weeks', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'a.practice.yaml': `route: a.route.yaml
sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: ⟦crate-vaul⟧, minutes: 25 }
      - { segment: harbor, minutes: 10, tried: { ⟦crate-volt⟧: [1, 2] } }
`,
      'a.runs.yaml': `route: a.route.yaml
runs:
  - start: 2026-10-05T21:00
    tried: { crate-vault: [1, 1], ⟦crate-vlt@second⟧: [0, 1] }
    first: { "⟦crate-vlt⟧": [0, 1] }
    ended: { at: harbor, why: miss, by: ⟦crate-vlt⟧ }
`.replace('"⟦crate-vlt⟧"', '⟦"crate-vlt"⟧'),
      'a.week.yaml': `route: a.route.yaml
pin: [⟦crate-vlt⟧]
leave_out:
  - ⟦crate-valt⟧ # not now
states: { ⟦crate-vult⟧: learning }
`,
    };
    await expectMarked(files, 'unknown-technique');
    const mended = await fixed(files);
    expect(mended['a.runs.yaml']).toContain('tried: { crate-vault: [1, 1], crate-vault@second: [0, 1] }');
    // What is left: the use that was hidden behind the slip, and the two lists that now name the same technique.
    expect((await findingsOf(mended)).map(({ code }) => code)).not.toContain('unknown-technique');
  });

  it('takes a former id in logs and weeks, and offers the new one in the route', async () => {
    const renamed = `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 90, techniques: [⟦rock-hop⟧, stone-skip] }
techniques:
  stone-skip: { difficulty: 3, saves: 3, was: [rock-hop] }
`;
    const log =
      'route: a.route.yaml\nsessions: [{ start: 2026-10-05, blocks: [{ technique: rock-hop, minutes: 20 }] }]\n';
    const week = 'route: a.route.yaml\npin: [rock-hop]\n';
    const [finding] = await expectMarked(
      { 'a.route.yaml': renamed, 'a.practice.yaml': log, 'a.week.yaml': week },
      'unknown-technique',
    );
    expect(finding?.message).toContain('called `stone-skip` now');
    expect(finding?.fix?.text).toBe('stone-skip');
  });

  it('counts a technique as known while what stands under it is half typed', async () => {
    const halfTyped = plainRoute.replace(/crate-vault: \{.*\}/, 'crate-vault:\n    difficulty: 3\n    sav');
    const log =
      'route: a.route.yaml\nsessions: [{ start: 2026-10-05, blocks: [{ technique: crate-vault, minutes: 20 }] }]\n';
    const findings = await findingsOf({ 'a.route.yaml': halfTyped, 'a.practice.yaml': log });
    expect(findings.length).toBeGreaterThan(0);
    expect(findings.map(({ code }) => code)).not.toContain('unknown-technique');
  });

  it('knows the techniques of the route that is extended', async () => {
    const category =
      'game: Lanternfall\ncategory: all lamps\nextends: a.route.yaml\nsegments:\n  - { id: pier, time: 60, techniques: [crate-vault, ⟦crate-valt⟧] }\n';
    await expectMarked({ 'a.route.yaml': plainRoute, 'b.route.yaml': category }, 'unknown-technique');
  });
});

describeFixOnSample(
  'unknown-technique',
  [
    { file: 'practice', from: 'technique: wall-kick', to: 'technique: wall-kik' },
    { file: 'week', from: 'lamp-clip: learning', to: 'lamp-clp: learning' },
  ],
  { restores: true },
);
