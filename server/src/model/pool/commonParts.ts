/**
 * How much runners have in common of what makes a technique harder or easier than its rating, and the places at which that is
 * told: the grid of a pool.
 *
 * A technique's own difference from its rating has the variance of the prior. A share of it is the technique's, the same for
 * everybody; the rest is each runner's with it. How large the share is, the pool itself says (`othersWord.ts`).
 */
import type { PooledNumbers } from './pooledTechnique.ts';

/** The shares that are compared beside none at all, by their names in a pool. */
export const commonShares: readonly { readonly name: keyof PooledNumbers; readonly share: number }[] = [
  { name: 'quarter', share: 0.25 },
  { name: 'half', share: 0.5 },
  { name: 'threeQuarters', share: 0.75 },
  { name: 'nearlyAll', share: 0.95 },
];

/** Evenly spaced places around 0. */
function around(half: number, step: number): readonly number[] {
  const count = Math.round(half / step);
  return Array.from({ length: 2 * count + 1 }, (_, i) => (i - count) * step);
}

/** By how much a half-way point may come later than rated, in ln(1 + E/unit). */
export const midwayPlaces = around(3, 0.25);

/** By how much more may be lost in a run than the runner loses on average, in logits. */
export const lossPlaces = around(1.5, 0.25);

/** Numbers of a pool are whole tenths of a natural logarithm. */
export const perLog = 10;

/**
 * The numbers of every share, each worked out for one of them.
 *
 * @param of log weights of the places, given the share that all have in common, and its name
 */
export function forEachShare(
  of: (share: number, name: keyof PooledNumbers) => readonly number[],
): PooledNumbers {
  const [quarter, half, threeQuarters, nearlyAll] = commonShares.map(({ share, name }) => of(share, name));
  return { quarter: quarter!, half: half!, threeQuarters: threeQuarters!, nearlyAll: nearlyAll! };
}
