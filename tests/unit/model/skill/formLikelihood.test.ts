import { describe, expect, test } from 'vitest';
import { formLogLikelihood } from '../../../../server/src/model/skill/formLikelihood.ts';
import { formsOf, placesOn, scaledTable } from '../../../../server/src/model/skill/formTables.ts';
import type { FormDay } from '../../../../server/src/model/skill/formLikelihood.ts';
import { CountTables } from '../../../../server/src/model/skill/countTables.ts';

/** A count of one technique whose courses have constant log odds. */
interface Count {
  readonly technique: number;
  readonly landed: number;
  readonly tries: number;
}

/** Two techniques with a few possible log odds each, the same on all days. */
const possible = [
  { logits: [-1.1, 0.03, 0.57], weights: [0.2, 0.5, 0.3] },
  { logits: [0.42, 1.38, 2.2], weights: [0.3, 0.3, 0.4] },
];

const concentration = 40;
const floor = 1e-4;
const tables = new CountTables({ concentration, rateFloor: floor });

function told(days: readonly (readonly Count[])[], spread: number): number {
  const usual = tables.of(0, 0);
  const places = possible.map(({ logits }) => placesOn(usual, Float64Array.from(logits)));
  const courses = possible.map(({ weights }) => ({ weights: Float64Array.from(weights), logits: [] }));
  const put: FormDay[] = days.map((counts) => ({
    practice: counts.map((count) => ({ ...count, places: places[count.technique]! })),
    runs: [],
    shared: true,
  }));
  return formLogLikelihood(courses, put, formsOf(spread, usual.step), (landed, tries) =>
    scaledTable(tables.of(landed, tries)),
  );
}

/** The log beta-binomial, without its coefficient, as a product. */
function logCount({ landed, tries }: Count, logOdds: number): number {
  const p = 1 / (1 + Math.exp(-logOdds));
  const alike = concentration / (4 * p * (1 - p));
  let log = 0;
  for (let i = 0; i < landed; i++) log += Math.log(alike * p + i);
  for (let i = 0; i < tries - landed; i++) log += Math.log(alike * (1 - p) + i);
  for (let i = 0; i < tries; i++) log -= Math.log(alike + i);
  return log;
}

/** The same by plain sums over all courses, and over all forms of each day in small steps. */
function summed(days: readonly (readonly Count[])[], spread: number): number {
  const forms = spread === 0 ? [0] : Array.from({ length: 401 }, (_, i) => (spread * (i - 200)) / 40);
  const shares = forms.map((z) => (spread === 0 ? 1 : Math.exp(-0.5 * (z / spread) ** 2)));
  const all = shares.reduce((a, b) => a + b, 0);
  let total = 0;
  possible[0]!.logits.forEach((a, i) =>
    possible[1]!.logits.forEach((b, j) => {
      let product = possible[0]!.weights[i]! * possible[1]!.weights[j]!;
      for (const counts of days)
        product *= forms.reduce((sum, z, n) => {
          const log = counts.reduce((own, count) => own + logCount(count, [a, b][count.technique]! + z), 0);
          return sum + (shares[n]! / all) * Math.exp(log);
        }, 0);
      total += product;
    }),
  );
  return Math.log(total);
}

const good: Count[] = [
  { technique: 0, landed: 15, tries: 20 },
  { technique: 1, landed: 19, tries: 20 },
];
const bad: Count[] = [
  { technique: 0, landed: 5, tries: 20 },
  { technique: 1, landed: 11, tries: 20 },
];

describe('the likelihood of counts at a spread', () => {
  test.each([0, 0.05, 0.1, 0.3, 0.9])('of one day is the sum over all courses and forms: %d', (spread) => {
    for (const day of [good, bad, [good[0]!]])
      expect(told([day], spread)).toBeCloseTo(summed([day], spread), 2);
  });

  test.each([0, 0.3, 0.6])('of several days is close to the sum over all: %d', (spread) => {
    const days = [good, bad, good, bad, bad];
    expect(Math.abs(told(days, spread) - summed(days, spread))).toBeLessThan(0.3);
  });

  test('is greater with form where techniques are good and bad on the same days, and else without', () => {
    const together = [good, bad, good, bad, good, bad, good, bad];
    expect(told(together, 0.5)).toBeGreaterThan(told(together, 0) + 2);
    const crossed = [
      [good[0]!, bad[1]!],
      [bad[0]!, good[1]!],
    ];
    expect(told([...crossed, ...crossed, ...crossed], 0.5)).toBeLessThan(
      told([...crossed, ...crossed, ...crossed], 0) - 1,
    );
  });
});

test('forms on a grid have the variance of the bell', () => {
  for (const spread of [0.02, 0.1, 0.25, 1.5]) {
    const { reach, weights } = formsOf(spread, 0.1);
    const variance = weights.reduce((sum, weight, m) => sum + weight * ((m - reach) * 0.1) ** 2, 0);
    expect(weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
    expect(Math.sqrt(variance) / spread).toBeCloseTo(1, 2);
  }
});
