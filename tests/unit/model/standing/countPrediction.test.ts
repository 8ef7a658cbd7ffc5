import { describe, expect, test } from 'vitest';
import { logBetaBinomial } from '../../../../server/src/model/skill/countLikelihood.ts';
import type { Constants } from '../../../../server/src/model/core/constants.ts';
import type { AttemptCount } from '../../../../server/src/model/core/types.ts';
import type { LogOddsDistribution } from '../../../../server/src/model/standing/countPrediction.ts';
import { defaultConstants, resolveConstants } from '../../../../server/src/model/core/constants.ts';
import {
  holmRejections,
  predictCount,
  familywiseErrorRate,
} from '../../../../server/src/model/standing/countPrediction.ts';
import { slipTests } from '../../../../server/src/model/standing/slipTests.ts';
import { ModelCache } from '../../../../server/src/model/core/modelCache.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import { plainOptions, seeded } from '../../../helpers/invented.ts';
import { simulate, type SimulationWish } from '../../../helpers/weeksOfRuns.ts';

const reviews = 60;

/** A quarter of the usual points of the grids: hundreds of runners are inferred here. */
const coarse = { midwayStep: 0.5, lossStep: 0.4 };

/** Posterior of a constant rate from days of runs, with Jeffreys' prior, on the points of a prediction. */
function constantRatePosterior(days: readonly AttemptCount[], constants: Constants): LogOddsDistribution {
  const logs = Float64Array.from({ length: 185 }, (_, i) => {
    const rate = 1 / (1 + Math.exp(-(i - 92) * 0.1));
    // Beta(1/2, 1/2), as a density over log odds.
    const prior = 0.5 * Math.log(rate) + 0.5 * Math.log1p(-rate);
    return days.reduce(
      (sum, { landed, tries }) =>
        sum + logBetaBinomial(landed, tries, rate, constants.concentration / (4 * rate * (1 - rate))),
      prior,
    );
  });
  return { weights: logs.map((log) => Math.exp(log - Math.max(...logs))) };
}

/** How many reviews of simulated runners name a slip, and how many name the one technique asked for. */
function namedIn(wish: SimulationWish, count: number, seed: number): { any: number; planted: number } {
  const random = seeded(seed);
  let any = 0;
  let planted = 0;
  // The grids of learning curves are the same for all runners.
  const cache = new ModelCache();
  for (let i = 0; i < count; i++) {
    const { route, logs, asOfDay } = simulate(wish, random);
    const prepared = prepareModel({ route, logs, asOfDay, options: plainOptions, constants: coarse }, cache);
    const { tested, slipped } = slipTests(prepared, asOfDay);
    expect(tested.length).toBe(wish.techniques);
    const named = tested.filter(slipped);
    if (named.length > 0) any++;
    if (wish.slip !== undefined && named.includes(`t${wish.slip.technique}`)) planted++;
  }
  return { any, planted };
}

/** Chance of more than `most` of `n` when each has chance `p`. */
function binomialAbove(n: number, p: number, most: number): number {
  let chance = (1 - p) ** n;
  let below = 0;
  for (let k = 0; k <= most; k++) {
    below += chance;
    chance *= ((n - k) / (k + 1)) * (p / (1 - p));
  }
  return 1 - below;
}

describe('the test for a slip', () => {
  test('names none where nothing slipped, but for the stated share of reviews, also of runners of another kind', () => {
    const { any } = namedIn({ truth: 'other', techniques: 6 }, reviews, 202);
    // So many or more come by chance in less than one in a thousand test runs, were the stated rate exact.
    expect(binomialAbove(reviews, familywiseErrorRate, any - 1)).toBeGreaterThan(1e-3);
  });

  test('of runners of its own kind it names about as many as it says, and finds most slips to 0.3', () => {
    const count = 200;
    const { any } = namedIn({ truth: 'model', techniques: 6 }, count, 404);
    // Within what chance allows at the stated rate: neither more nor far fewer (one in a hundred each).
    expect(binomialAbove(count, familywiseErrorRate, any - 1)).toBeGreaterThan(0.01);
    expect(1 - binomialAbove(count, familywiseErrorRate, any)).toBeGreaterThan(0.01);
    const { planted } = namedIn({ truth: 'other', techniques: 4, slip: { technique: 0, rate: 0.3 } }, 40, 11);
    expect(planted).toBeGreaterThanOrEqual(26);
  });

  test('leaves out half of the chance of exactly this count', () => {
    const constants = resolveConstants({ concentration: 1e9 });
    const weights = new Float64Array(185);
    weights[92] = 1;
    const { midChance } = predictCount([{ landed: 2, tries: 10 }], { weights }, constants);
    // S: binomial distribution, n = 10, p = 1/2: P(X < 2) + P(X = 2)/2 = (11 + 45/2)/1024 (by hand).
    expect(midChance).toBeCloseTo(33.5 / 1024, 6);
  });

  test('finds a planted one, and finds it less often the smaller it is', () => {
    const found = (rate: number) =>
      namedIn({ truth: 'other', techniques: 4, slip: { technique: 0, rate } }, 25, 303).planted;
    const [large, small] = [found(0.1), found(0.5)];
    expect(large).toBeGreaterThanOrEqual(20);
    expect(small).toBeLessThan(large);
  });

  test('is the plain binomial tail where the rate is certain and days do not differ', () => {
    const constants = resolveConstants({ concentration: 1e9 });
    const weights = new Float64Array(185);
    weights[92] = 1; // a rate of exactly one half
    const { chance, mean } = predictCount(
      [
        { landed: 2, tries: 6 },
        { landed: 0, tries: 4 },
      ],
      { weights },
      constants,
    );
    // S: binomial distribution, n = 10, p = 1/2: P(X ≤ 2) = 56/1024 (Abramowitz & Stegun, 26.1.20; by hand).
    expect(chance).toBeCloseTo(56 / 1024, 6);
    expect(mean).toBeCloseTo(5, 9);
  });

  test('is the beta-binomial tail from a known prior: nothing seen, Jeffreys', () => {
    const constants = resolveConstants({ concentration: 1e9 });
    const { chance } = predictCount(
      [{ landed: 0, tries: 2 }],
      constantRatePosterior([], constants),
      constants,
    );
    // S: beta-binomial with a = b = 1/2, n = 2: P(0) = B(1/2, 5/2) / B(1/2, 1/2) = 3/8 (by hand from the beta function).
    expect(chance).toBeCloseTo(0.375, 2);
  });

  test('takes days that differ into account: the same count is less of a surprise', () => {
    const days = [{ landed: 4, tries: 20 }];
    const earlier = [{ landed: 150, tries: 200 }];
    const even = resolveConstants({ concentration: 1e9 });
    const steady = predictCount(days, constantRatePosterior(earlier, even), even).chance;
    const moving = predictCount(
      days,
      constantRatePosterior(earlier, defaultConstants),
      defaultConstants,
    ).chance;
    expect(moving).toBeGreaterThan(3 * steady);
  });

  test('stays finite at the edges', () => {
    for (const days of [
      [],
      [{ landed: 0, tries: 1 }],
      [{ landed: 10_000, tries: 10_000 }],
      [{ landed: 0, tries: 10_000 }],
    ]) {
      const { chance } = predictCount(
        days,
        constantRatePosterior([{ landed: 0, tries: 1 }], defaultConstants),
        defaultConstants,
      );
      expect(chance).toBeGreaterThanOrEqual(0);
      expect(chance).toBeLessThanOrEqual(1);
    }
  });
});

describe("Holm's correction", () => {
  test('gives what it gives in its textbook form', () => {
    // S: Holm 1979: the smallest of four is held against 0.05/4, the next against 0.05/3, and so on until one fails.
    expect(holmRejections([0.01, 0.04, 0.03, 0.005], 0.05)).toEqual([true, false, false, true]);
    expect(holmRejections([0.0126, 0.0001], 0.05)).toEqual([true, true]);
    expect(holmRejections([0.06], 0.05)).toEqual([false]);
    expect(holmRejections([], 0.05)).toEqual([]);
  });
});
