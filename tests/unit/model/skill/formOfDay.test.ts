import { beforeAll, describe, expect, test } from 'vitest';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { ModelCache } from '../../../../server/src/model/core/modelCache.ts';
import type { Constants } from '../../../../server/src/model/core/constants.ts';
import { formOfRunnerInSteps } from '../../../../server/src/model/run/formOfRuns.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import type { PreparedModel, RankInput } from '../../../../server/src/model/run/preparedModel.ts';
import { formEstimate } from '../../../../server/src/model/skill/formOfDay.ts';
import type { FormOfDay } from '../../../../server/src/model/skill/formOfDay.ts';
import { chance } from '../../../arena/random.ts';
import { formRunner } from '../../../helpers/formRunners.ts';
import { noLogs } from '../../../helpers/invented.ts';
import { chiSquareOfRanks } from '../../../helpers/ranks.ts';

// The grids of learning curves are the same for all runners.
const cache = new ModelCache();

function formOf(input: RankInput, constants: Partial<Constants> = {}): FormOfDay {
  return runToCompletion(formOfRunnerInSteps(prepareModel({ ...input, constants }, cache)));
}

/** Share of the posterior below a spread; each point stands for the values that are nearest to it. */
function rankOf({ spreads, weights }: FormOfDay, truth: number): number {
  const step = spreads[1]! - spreads[0]!;
  return spreads.reduce((sum, spread, i) => {
    const [low, high] = [Math.max(0, spread - step / 2), spread + step / 2];
    return sum + weights[i]! * Math.min(1, Math.max(0, (truth - low) / (high - low)));
  }, 0);
}

const usual = { techniques: 8, days: 30, each: 4, tries: 40 };
const seeds = Array.from({ length: 12 }, (_, i) => 300 + i);
const meanOf = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

describe('what the logs tell of the spread of the form', () => {
  test('nothing, where each day has one technique: the answer is the prior', () => {
    const prior = formEstimate(formOf({ ...formRunner(1, { ...usual, spread: 0 }), logs: noLogs }));
    // S: mean and quantiles of a half-normal distribution of scale 0.3: 0.3 · √(2/π), and 0.3 · z at 0.55 and 0.95.
    expect(prior.mean).toBeCloseTo(0.3 * Math.sqrt(2 / Math.PI), 2);
    expect(prior.low).toBeCloseTo(0.3 * 0.1257, 2);
    expect(prior.high).toBeCloseTo(0.3 * 1.6449, 2);
    for (const spread of [0, 0.5, 1])
      for (const seed of seeds.slice(0, 3)) {
        const form = formOf(formRunner(seed, { ...usual, each: 1, spread }));
        expect(form.days).toBe(0);
        expect(formEstimate(form)).toEqual(prior);
      }
  });

  test('it goes to 0 where all days are alike, and the closer the more is logged', () => {
    const meanOfLogs = (more: Partial<typeof usual>): number =>
      meanOf(
        seeds.map((seed) => formEstimate(formOf(formRunner(seed, { ...usual, ...more, spread: 0 }))).mean),
      );
    const few = meanOfLogs({ days: 8 });
    const many = meanOfLogs({ days: 60, each: 6, tries: 80 });
    expect(few).toBeLessThan(0.22);
    expect(many).toBeLessThan(0.08);
  });

  test('it is not taken for form where each technique has good and bad days of its own', () => {
    const wild = seeds.map((seed) =>
      formEstimate(formOf(formRunner(seed, { ...usual, spread: 0, alike: 0.3 }))),
    );
    expect(meanOf(wild.map(({ mean }) => mean))).toBeLessThan(0.18);
    expect(wild.filter(({ low }) => low > 0.15)).toHaveLength(0);
  });

  test('a spread of a half is found', () => {
    const found = seeds.map((seed) =>
      formEstimate(formOf(formRunner(seed, { ...usual, days: 50, spread: 0.5 }))),
    );
    const mean = meanOf(found.map((one) => one.mean));
    // Fifty days tell a standard deviation to a tenth of itself at best.
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.08);
    const held = found.filter(({ low, high }) => low <= 0.5 && high >= 0.5).length;
    // Of 12 ranges that hold the truth in 8 of 10 cases, 6 or fewer do once in 50 times.
    expect(held).toBeGreaterThan(6);
  });

  test('runs tell as practice does', () => {
    const inRuns = seeds.map((seed) =>
      formEstimate(formOf(formRunner(seed, { ...usual, each: 1, runsEvery: 1, days: 40, spread: 0.6 }))),
    );
    expect(meanOf(inRuns.map(({ mean }) => mean))).toBeGreaterThan(0.4);
    expect(meanOf(inRuns.map(({ mean }) => mean))).toBeLessThan(0.75);
  });
});

describe('simulation-based calibration', () => {
  const bins = 6;
  // S: chi-square with 5 degrees of freedom, 99.9 % point (any table): 20.52.
  const mostChiSquare = 20.52;

  /** S: Talts et al. 2018, arXiv 1804.06788. Spreads drawn from the prior, and logs from runners with that spread. */
  const drawn: { readonly spread: number; readonly prepared: PreparedModel }[] = [];
  beforeAll(() => {
    const random = chance(4242);
    for (let seed = 0; seed < 150; seed++) {
      const spread = Math.abs(0.3 * random.normal());
      const input = formRunner(1000 + seed, {
        techniques: 4,
        days: 12,
        each: 3,
        tries: 40,
        runsEvery: 6,
        spread,
      });
      drawn.push({ spread, prepared: prepareModel(input, cache) });
    }
  }, 120_000);

  function unevenness(mistaken: Partial<Constants> = {}): number {
    const ranks = drawn.map(({ spread, prepared }) => {
      const constants = { ...prepared.constants, ...mistaken };
      return rankOf(runToCompletion(formOfRunnerInSteps({ ...prepared, constants })), spread);
    });
    return chiSquareOfRanks(ranks, bins);
  }

  test('the truth stands anywhere in the posterior, each place as often as any other', () => {
    expect(unevenness()).toBeLessThan(mostChiSquare);
  }, 120_000);

  test('a posterior that expects too little form is found out', () => {
    expect(unevenness({ formSd: 0.1 })).toBeGreaterThan(mostChiSquare);
  }, 120_000);
});

describe('the answer', () => {
  const input = formRunner(17, { ...usual, days: 12, runsEvery: 4, spread: 0.4 });

  test('is the same with other names and in another order', () => {
    const named = (id: string): string => `z${100 - Number(id.slice(1))}`;
    const of = <T extends { readonly technique: string }>(entries: readonly T[]): T[] =>
      entries.map((entry) => ({ ...entry, technique: named(entry.technique) }));
    const renamed: RankInput = {
      ...input,
      route: {
        ...input.route,
        techniques: input.route.techniques.map((one) => ({ ...one, id: named(one.id) })).reverse(),
        segments: input.route.segments.map((one) => ({ ...one, uses: of(one.uses).reverse() })),
      },
      logs: { practice: of(input.logs.practice).reverse(), runs: of(input.logs.runs).reverse() },
    };
    const [one, other] = [formOf(input), formOf(renamed)];
    one.weights.forEach((weight, i) => expect(other.weights[i]!).toBeCloseTo(weight, 9));
  });

  test('is a spread of 0 where the runner wants no form', () => {
    const { spreads, weights } = formOf(input, { formSd: 0 });
    expect([...spreads, ...weights]).toEqual([0, 1]);
  });

  test('is finite whatever was counted', () => {
    const short = formRunner(5, { techniques: 3, days: 3, each: 3, tries: 20, runsEvery: 2, spread: 0.3 });
    const counts = [0, 5, 1e9, NaN, -4];
    for (const landed of counts)
      for (const tries of counts) {
        const practice = short.logs.practice.map((entry) => ({ ...entry, counted: { landed, tries } }));
        const form = formOf({ ...short, logs: { ...short.logs, practice } });
        expect([...form.weights].every((weight) => weight >= 0 && Number.isFinite(weight))).toBe(true);
        expect(form.weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
      }
  });
});
