import { describe, expect, it } from 'vitest';
import type { Standing } from '../../../../../server/src/model/core/standing.ts';
import type { Assessment } from '../../../../../server/src/model/index.ts';
import { standing } from '../../../../helpers/standings.ts';
import { rate } from '../../builders/sessions.ts';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { week } from '../../builders/weekFile.ts';
import { expectMarkedForecast, forecastsOf, underlined } from '../../marked.ts';
import type { Files, Options } from '../../marked.ts';

const code = 'state-against-logs';

const stands = (
  given: Partial<Standing>,
  resetWeight: number | null = null,
): ReadonlyMap<string, Assessment> => {
  const now = standing('crate-vault', given);
  const lands = rate(0.4, 0.3);
  return new Map([
    [
      'crate-vault',
      {
        standing: now,
        practiceNow: lands,
        runNow: lands,
        breakEven: 0.5,
        resetWeight,
        chanceAboveBreakEvenNow: 0.5,
      },
    ],
  ]);
};

const files = (state: string, start = '2026-10-05') => ({
  ...week(`states: { crate-vault: ${state} }\n`),
  'a.practice.yaml': `route: a.route.yaml\nsessions: [{ start: ${start}, blocks: [{ technique: crate-vault, minutes: 25 }] }]\n`,
});

/** The findings of this code: whatever is to be worked on again is found in the route, too. */
async function found(files: Files, given: Partial<Standing>, options: Options = {}) {
  const findings = await forecastsOf(files, stands(given), options);
  return findings.filter((finding) => finding.code === code);
}

const competent = { kind: 'in-run', cause: { why: 'competent' }, chancePays: 0.9 } as const;
const costly = { kind: 'again', cause: { why: 'costs time' }, tried: true } as const;
const byHand = { kind: 'aside', cause: { why: 'put aside by hand' } } as const;

describe(code, () => {
  it.each([
    [
      'learning',
      competent,
      'By the logs its standing is “in the run”. The chance that trying it in runs pays is 90 %',
      'in-run',
    ],
    [
      'in-run',
      costly,
      'By the logs its standing is “to work on again”. Trying it in runs costs time',
      'learning',
    ],
    [
      'unlearned',
      competent,
      'By the logs its standing is “in the run”. The chance that trying it in runs pays',
      'in-run',
    ],
    ['unlearned', byHand, 'It was practised in the last days.', 'learning'],
  ] as const)('is found for `%s` where the standing is %o', async (state, given, says, right) => {
    const [finding, ...others] = await found(files(state), given);
    expect(others).toEqual([]);
    expect(underlined(files(state), finding!)).toBe(`a.week.yaml: ${state}`);
    expect(finding?.message).toContain(`\`crate-vault\` is \`${state}\` here. ${says}`);
    expect(finding?.message).toContain(`Write \`${right}\``);
    expect(finding?.fix?.text).toBe(right);
  });

  it('is found for what is tried in runs and called unlearned; what costs time there becomes `learning`', async () => {
    const tried = (state: string) => ({
      ...week(`states: { crate-vault: ${state} }\n`),
      'a.runs.yaml': `route: a.route.yaml\nruns:\n${[1, 2, 3].map((day) => `  - { start: 2026-10-0${day}, tried: { crate-vault: [1, 1] } }\n`).join('')}`,
    });
    for (const [worthTrying, right] of [
      [true, 'in-run'],
      [false, 'learning'],
    ] as const) {
      const now = stands({ kind: 'not-begun', cause: { why: 'nothing logged' }, worthTrying });
      const [finding] = await expectMarkedForecast(tried('⟦unlearned⟧'), code, now);
      expect(finding?.message).toContain('It was tried in several of the last runs.');
      expect(finding?.fix?.text).toBe(right);
    }
  });

  it('is not found where the state agrees, practice is long ago, or the week file does more than say a state', async () => {
    const none = async (state: string, given: Partial<Standing>, today?: string) =>
      expect(await found(files(state), given, today === undefined ? {} : { today })).toEqual([]);
    await none('in-run', competent);
    await none('learning', {});
    await none('unlearned', byHand, '2026-11-05');
    await none('unlearned', { kind: 'left-out', cause: { why: 'left out' } });
    await none('learning', { kind: 'waiting', cause: { why: 'item', item: 'oil' } });
    // A slip that leaves it above its break-even does not take it out of the run.
    await none('in-run', { kind: 'again', cause: { why: 'fallen', day: 20366 }, worthTrying: true });
  });
});

describeFixOnSample(
  'state-against-logs',
  [
    { file: 'week', from: 'oil-slick: learning', to: 'oil-slick: unlearned' },
    { file: 'week', from: 'tide-skip: learning', to: 'tide-skip: in-run' },
  ],
  { restores: true },
);
