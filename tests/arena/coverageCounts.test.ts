/** Counting forecasts against the truth, on forecasts written by hand. */
import { expect, test } from 'vitest';
import { agreement } from './coverageCounts.ts';
import type { Told } from './forecastCoverage.ts';

function told(low: number, high: number, truth: number, mean = (low + high) / 2): Told {
  return { question: 'gain', group: 'practised', low, high, mean, truth };
}

test('ranges that hold the truth, lie above it and lie below it', () => {
  const found = agreement([
    [told(1, 3, 2), told(1, 3, 0)],
    [told(1, 3, 4), told(1, 3, 3)],
    [told(1, 3, 3.5)],
  ]);
  expect(found).toMatchObject({ count: 5, ranges: 5, held: { mean: 0.4 }, above: 0.2, below: 0.4, due: 0.8 });
});

test('below 0 lies no gain, so a range from 0 should hold 90 %', () => {
  expect(agreement([[told(0, 2, 0), told(1, 2, 1)]]).due).toBeCloseTo(0.85);
});

test('what is told as nothing gained, almost surely, counts in the means alone', () => {
  const found = agreement([[told(0, 0, 1), told(1, 3, 2)]]);
  expect(found).toMatchObject({ count: 2, ranges: 1, held: { mean: 1 }, meanTruth: 1.5 });
  expect(found.bias.mean).toBeCloseTo(-0.5);
});

test('techniques of one runner that err alike are no more evidence than one', () => {
  const one = [0.5, -0.5, 1, -1].map((by) => [told(0, 2, 1 - by)]);
  const three = one.map(([own]) => [own!, own!, own!]);
  expect(agreement(three).bias.error).toBeCloseTo(agreement(one).bias.error);
  // Standard deviation of the four (divisor 3) over the root of four.
  expect(agreement(one).bias.error).toBeCloseTo(Math.sqrt(2.5 / 3) / 2);
});
