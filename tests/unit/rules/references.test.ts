import { describe, expect, it } from 'vitest';
import { expectMarked, findingsOf, fixed, plainRoute, underlined } from './marked.ts';

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

describe('unknown-segment', () => {
  it('is found in blocks, times, endings and own times', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'a.practice.yaml':
        'route: a.route.yaml\nsessions:\n  - { start: 2026-10-05, blocks: [{ segment: ⟦harbr⟧, minutes: 5 }] }\n',
      'a.runs.yaml': `route: a.route.yaml
runs:
  - { start: 2026-10-05T20:00, times: { ⟦harbour⟧: 1:31, harbor: 1:30 } }
  - { start: 2026-10-05T21:00, ended: { at: ⟦lighthouse⟧, why: death } }
  - { date: 2026-10-06, runs: 4, ended: { ⟦habor⟧: { reset: 1, death: 1 }, harbor: { reset: 2 } } }
`,
      'a.week.yaml': 'route: a.route.yaml\ntimes: { ⟦harbur⟧: { time: 90 }, harbor: { time: 91 } }\n',
    };
    const findings = await expectMarked(files, 'unknown-segment');
    expect(findings.map(({ fix }) => fix?.text)).toEqual([
      'harbor',
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    // Where the map has the right key as well, a second one would be no remedy.
    expect(findings[1]?.message).toContain('Did you mean `harbor`?');
    expect(findings[2]?.message).toBe(
      'No segment of the route has the id `lighthouse`. Add it under `segments`, or correct the id.',
    );
  });

  it('offers the nearest name as a key where it does not stand there yet', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'a.runs.yaml': 'route: a.route.yaml\nruns: [{ start: 2026-10-05, times: { ⟦harbour⟧: 1:31 } }]\n',
      'a.week.yaml': 'route: a.route.yaml\ntimes:\n  ⟦harbur⟧: { time: 90 } # mine\n',
    };
    await expectMarked(files, 'unknown-segment');
    const mended = await fixed(files);
    expect(mended['a.week.yaml']).toBe('route: a.route.yaml\ntimes:\n  harbor: { time: 90 } # mine\n');
    expect(await findingsOf(mended)).toEqual([]);
  });

  it('counts a segment as known while it has no time yet', async () => {
    const findings = await findingsOf({
      'a.route.yaml': plainRoute.replace('time: 1:30', 'time:'),
      'a.runs.yaml': 'route: a.route.yaml\nruns: [{ start: 2026-10-05, times: { harbor: 90 } }]\n',
    });
    expect(findings.length).toBeGreaterThan(0);
    expect(findings.map(({ code }) => code)).not.toContain('unknown-segment');
  });
});

describe('unknown-use', () => {
  const route = plainRoute.replace('[crate-vault]', '[crate-vault, { use: crate-vault, id: second }]');

  it('is found where no use of the technique has that id', async () => {
    const files = {
      'a.route.yaml': route,
      'a.runs.yaml':
        'route: a.route.yaml\nruns:\n  - { start: 2026-10-05, tried: { crate-vault@second: [1, 1], ⟦crate-vault@secnd⟧: [1, 1] } }\n  - { start: 2026-10-06, tried: { ⟦crate-vault@roof⟧: [1, 1] } }\n',
    };
    const [near, far] = await expectMarked(files, 'unknown-use');
    expect(near?.message).toContain('Did you mean `crate-vault@second`?');
    expect(far?.message).toContain('write `crate-vault` alone');
    expect(far?.fix).toBeUndefined();
  });

  it('is found in a stretch practised whole', async () => {
    const log =
      'route: a.route.yaml\nsessions: [{ start: 2026-10-05, blocks: [{ segment: harbor, minutes: 9, tried: { ⟦crate-vault@third⟧: [1, 1] } }] }]\n';
    await expectMarked({ 'a.route.yaml': route, 'a.practice.yaml': log }, 'unknown-use');
  });
});

describe('unknown-item', () => {
  it('is found where nothing takes what a use needs', async () => {
    const route = (item: string) =>
      plainRoute.replace(
        '[crate-vault]',
        `[{ use: crate-vault, take: oil }, { use: crate-vault, id: b, with: ${item} }]`,
      );
    const [finding] = await expectMarked({ 'a.route.yaml': route('⟦oli⟧') }, 'unknown-item');
    expect(finding?.message).toContain('Did you mean `oil`?');
    await expectMarked({ 'a.route.yaml': route('⟦rope⟧') }, 'unknown-item');
    await expectMarked({ 'a.route.yaml': route('oil') }, 'unknown-item');
  });
});

describe('unknown-route', () => {
  const log = (route: string) => `route: ${route}\nsessions: []\n`;

  it('is found at the line of a log or week whose route is missing or out of reach', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'a.practice.yaml': log('⟦b.route.yaml⟧'),
      'a.runs.yaml': 'route: ⟦../elsewhere/a.route.yaml⟧\nruns: []\n',
      'a.week.yaml': 'route: ⟦"sub/a.route.yaml"⟧\n',
    };
    const findings = await expectMarked(files, 'unknown-route');
    expect(findings.map(({ message }) => message.slice(0, 40))).toEqual([
      'There is no route `b.route.yaml` here. C',
      'The route `../elsewhere/a.route.yaml` li',
      'There is no route `sub/a.route.yaml` her',
    ]);
    await expectMarked(
      { 'a.route.yaml': plainRoute, 'sub/a.practice.yaml': log('../a.route.yaml') },
      'unknown-route',
    );
  });

  it('leaves it to reading to say that no route is named', async () => {
    const findings = await findingsOf({ 'a.practice.yaml': 'sessions: []\n' });
    expect(findings.map(({ code }) => code)).toEqual(['missing-key']);
    expect(findings[0]?.message).toContain('`route`');
  });

  it('is found where the route that is extended is missing, and what it would define is not asked for', async () => {
    const route = plainRoute
      .replace('segments:', 'extends: ⟦base.route.yaml⟧\nsegments:')
      .replace('[crate-vault]', '[lamp-clip]');
    await expectMarked({ 'a.route.yaml': route }, 'unknown-route');
  });

  it('is found once where routes extend each other in a circle', async () => {
    const extend = (other: string) => `game: Lanternfall\ncategory: any%\nextends: ${other}\n`;
    const files = {
      'a.route.yaml': extend('⟦c.route.yaml⟧'),
      'b.route.yaml': extend('a.route.yaml'),
      'c.route.yaml': extend('b.route.yaml'),
      'd.route.yaml': extend('b.route.yaml'), // leads into the circle, is no part of it
    };
    const [finding] = await expectMarked(files, 'unknown-route');
    expect(finding?.message).toContain('a.route.yaml → c.route.yaml → b.route.yaml → a.route.yaml');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual([
      'c.route.yaml: b.route.yaml',
      'b.route.yaml: a.route.yaml',
    ]);
    await expectMarked({ 'a.route.yaml': extend('⟦a.route.yaml⟧') }, 'unknown-route');
  });
});
