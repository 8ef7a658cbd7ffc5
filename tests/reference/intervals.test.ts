import quantile from '@stdlib/stats-base-dists-beta-quantile';
import { expect, test } from 'vitest';
import { logBetaBinomial } from '../../server/src/model/skill/countLikelihood.ts';
import { weightedQuantile } from '../../server/src/model/core/numbers.ts';

/**
 * Jeffreys interval through the project's own likelihood and grid quantile: even steps of the angle whose squared
 * sine is the rate make the Jeffreys prior flat.
 */
function jeffreys(landed: number, tries: number, level: number): number {
  const count = 20001;
  const angles = Float64Array.from({ length: count }, (_, i) => ((i + 0.5) / count) * (Math.PI / 2));
  const masses = angles.map((angle) => {
    const rate = Math.sin(angle) ** 2;
    return Math.exp(logBetaBinomial(landed, tries, rate, 1e9));
  });
  return Math.sin(weightedQuantile(angles, masses, level)) ** 2;
}

test('Jeffreys 95 % intervals of published tables', () => {
  // S: Brown, Cai & DasGupta 2001, Statistical Science 16; the lower end is set to 0 at no success.
  const table = [
    [0, 7, 0, 0.2924],
    [1, 7, 0.0159, 0.5008],
    [2, 7, 0.0647, 0.6477],
    [3, 7, 0.1389, 0.7655],
    [5, 10, 0.2235, 0.7765],
    [1, 20, 0.0054, 0.2108],
  ] as const;
  for (const [landed, tries, low, high] of table) {
    // Tolerance: 1.1e-4, the table's last figure; where nothing landed the table puts 0 for a small number.
    if (landed > 0) expect(Math.abs(jeffreys(landed, tries, 0.025) - low)).toBeLessThan(1.1e-4);
    expect(Math.abs(jeffreys(landed, tries, 0.975) - high)).toBeLessThan(1.1e-4);
  }
});

test('grid quantiles against an independent beta quantile', () => {
  // S: @stdlib/stats-base-dists-beta-quantile, an independent implementation.
  for (const [landed, tries] of [
    [0, 7],
    [3, 7],
    [17, 20],
    [40, 90],
  ] as const) {
    // prettier-ignore
    for (const level of [0.1, 0.5, 0.9]) {
      const exact = quantile(level, landed + 0.5, tries - landed + 0.5);
      expect(jeffreys(landed, tries, level)).toBeCloseTo(exact, 4);
    }
  }
});
