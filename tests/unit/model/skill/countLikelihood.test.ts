import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  addInterpolated,
  refineTable,
  logBetaBinomial,
} from '../../../../server/src/model/skill/countLikelihood.ts';
import { CountTables } from '../../../../server/src/model/skill/countTables.ts';
import { logistic } from '../../../../server/src/model/core/numbers.ts';

function choose(n: number, k: number): number {
  let out = 1;
  for (let i = 1; i <= k; i++) out *= (n - k + i) / i;
  return out;
}

test('with the binomial coefficient the chances of all counts sum to one, on both ways of computing', () => {
  for (const tries of [1, 7, 60, 100, 101, 140]) {
    let total = 0;
    for (let k = 0; k <= tries; k++)
      total += choose(tries, k) * Math.exp(logBetaBinomial(k, tries, 0.37, 40));
    expect(total).toBeCloseTo(1, 8);
  }
});

test('at mean 1/2 and concentration 2 every count is equally likely', () => {
  // The beta distribution is then the even one, whose beta-binomial is 1/(n + 1) for every count.
  for (const k of [0, 3, 10]) {
    expect(choose(10, k) * Math.exp(logBetaBinomial(k, 10, 0.5, 2))).toBeCloseTo(1 / 11, 12);
  }
});

test('in the limit of a large concentration it is the binomial', () => {
  expect(logBetaBinomial(3, 10, 0.3, 1e9)).toBeCloseTo(3 * Math.log(0.3) + 7 * Math.log(0.7), 6);
});

test('one day of a great many attempts says no more than its concentration allows', () => {
  const gap = (n: number) => logBetaBinomial(n / 2, n, 0.5, 40) - logBetaBinomial(n / 2, n, 0.6, 40);
  expect(gap(10000)).toBeGreaterThan(gap(100));
  expect(gap(10000)).toBeLessThan(2 * gap(40));
});

test('extreme rates and counts stay finite', () => {
  for (const [landed, tries] of [
    [0, 0],
    [0, 10000],
    [10000, 10000],
    [1, 1],
    [100, 100],
  ] as const) {
    // prettier-ignore
    for (const mean of [1e-4, 0.5, 1 - 1e-4]) {
      expect(Number.isFinite(logBetaBinomial(landed, tries, mean, 40))).toBe(true);
      expect(Number.isFinite(logBetaBinomial(landed, tries, mean, 1e9))).toBe(true);
    }
  }
});

test('the table reads back the likelihood along a row of losses', () => {
  const table = refineTable(new CountTables({ concentration: 40, rateFloor: 1e-4 }).of(37, 61));
  fc.assert(
    fc.property(fc.double({ min: -8, max: 8, noNaN: true }), (x) => {
      const out = new Float64Array(5);
      addInterpolated(table, x, 2, out, 0, 5);
      out.forEach((value, j) => {
        const rate = Math.min(1 - 1e-4, Math.max(1e-4, logistic(x - 0.2 * j)));
        // Days differ by the same amount in log odds at every rate: 40 at one half.
        const exact = logBetaBinomial(37, 61, rate, 10 / (rate * (1 - rate)));
        // Tolerance: four-point interpolation; looser only where the rate is cut off and nothing is at stake.
        expect(Math.abs(value - exact)).toBeLessThan(Math.abs(x - 0.2 * j) < 8.5 ? 1e-4 : 0.5);
      });
    }),
  );
});
