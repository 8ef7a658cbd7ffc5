import { describe, expect, it } from 'vitest';
import { describeFixOnSample, sample } from '../../builders/fixOnSample.ts';
import { exampleRoute } from '../../../../../server/src/rules/engine/exampleFiles.ts';
import { codes, log, session } from '../../builders/sessions.ts';
import { expectMarked, fixed } from '../../marked.ts';

describe('logged-twice', () => {
  const code = 'logged-twice';

  it('is found for what says the same at the same time, and the fix takes the second one out', async () => {
    const one = session('2026-10-05T19:30', 'crate-vault 25; landed: [61, 104]');
    const files = log(one, one.replace('2026-10-05T19:30', '⟦2026-10-05T19:30⟧'));
    await expectMarked(files, code);
    expect((await fixed(files))['a.practice.yaml']).toBe(log(one)['a.practice.yaml']);
    expect(await codes(log(one, one.replace('61', '60')))).toEqual([]);
  });

  it('is found for blocks with one id, also where only one of them was corrected', async () => {
    const block = (rest: string) => `      - { ${rest} }\n`;
    const files = (second: string) => ({
      'a.route.yaml': exampleRoute,
      'a.practice.yaml': `route: a.route.yaml\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n${block('id: b-1, technique: crate-vault, minutes: 25, landed: [6, 10]')}${block(second)}`,
    });
    const same = files('id: ⟦b-1⟧, technique: crate-vault, minutes: 25, landed: [6, 10]');
    const [finding] = await expectMarked(same, code);
    expect(finding?.fix?.title).toBe('Take this entry out');
    const [other] = await expectMarked(
      files('id: ⟦b-1⟧, technique: crate-vault, minutes: 20, landed: [6, 10]'),
      code,
    );
    expect(other?.fix).toBeUndefined();
  });

  it('is not found for two short runs of an evening without a time of day', async () => {
    const runs =
      'route: a.route.yaml\nruns:\n  - { start: 2026-10-05, ended: { at: harbor, why: reset } }\n  - { start: 2026-10-05, ended: { at: harbor, why: reset } }\n';
    expect(await codes({ 'a.route.yaml': exampleRoute, 'a.runs.yaml': runs })).toEqual([]);
  });
});

const firstSession = /^ {2}- start: 2026-09-28T19:20\n(?: {4}.*\n)+/m.exec(
  sample['lanternfall.practice.yaml']!,
)![0];
describeFixOnSample(
  'logged-twice',
  [{ file: 'practice', from: firstSession, to: firstSession + firstSession }],
  { restores: true },
);
