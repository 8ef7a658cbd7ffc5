/** Forms of the day on a grid, and the likelihood of a count on the same grid. */
import { clamp } from '../core/numbers.ts';
import type { CountLikelihoodTable } from './countLikelihood.ts';

/** Forms that are summed over: multiples of the step of the tables, `-reach` to `reach`, with their weights. */
export interface Forms {
  readonly reach: number;
  readonly weights: Float64Array;
}

/** Forms more standard deviations away than this are left out. */
const farthest = 4;

/**
 * A normal distribution on multiples of `step`, with its variance exact. A sum over evenly spaced points is exact to many
 * digits for a smooth bell, and where the points are too far apart for that, three of them take its place.
 *
 * @param spread standard deviation in log odds
 * @example
 * formsOf(0, 0.1).reach // 0
 * formsOf(0.05, 0.1).weights[0] // 0.125
 */
export function formsOf(spread: number, step: number): Forms {
  if (!(spread > 0)) return { reach: 0, weights: Float64Array.of(1) };
  if (spread < step) {
    const far = (spread / step) ** 2 / 2;
    return { reach: 1, weights: Float64Array.of(far, 1 - 2 * far, far) };
  }
  const reach = Math.ceil((farthest * spread) / step);
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, m) =>
    Math.exp(-0.5 * (((m - reach) * step) / spread) ** 2),
  );
  const total = weights.reduce((a, b) => a + b, 0);
  return { reach, weights: weights.map((weight) => weight / total) };
}

/** The likelihood of a count at evenly spaced log odds, scaled to a greatest value of 1. */
export interface ScaledTable {
  readonly from: number;
  readonly step: number;
  /** Its first and its last value are repeated on both sides, {@link margin} times each. */
  readonly values: Float64Array;
  readonly points: number;
  /** Logarithm of what it was divided by. */
  readonly scale: number;
}

/** Points added on each side of a table: forms reach no further than this many steps. */
export const margin = 64;

/** Scales a table of logarithms. */
export function scaledTable({ from, step, values: logs }: CountLikelihoodTable): ScaledTable {
  const scale = logs.reduce((a, b) => Math.max(a, b), -Infinity);
  const points = logs.length;
  const values = Float64Array.from({ length: points + 2 * margin }, (_, i) =>
    Math.exp(logs[clamp(i - margin, 0, points - 1)]! - scale),
  );
  return { from, step, values, points, scale };
}

/** Where log odds lie among the points of tables that are like this one, limited to its ends. */
export function placesOn(
  { from, step, values }: Pick<CountLikelihoodTable, 'from' | 'step' | 'values'>,
  logits: Float64Array,
): Float64Array {
  return logits.map((x) => clamp((x - from) / step, 0, values.length - 1.000001));
}
