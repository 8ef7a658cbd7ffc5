/** The likelihood of one day's count, and a table of it over the log odds of the rate. */
import betaln from '@stdlib/math-base-special-betaln';
import { clamp } from '../core/numbers.ts';

/** Up to this many tries the likelihood is computed as a product; for more tries, with the log beta function. */
const productTries = 100;

/**
 * Log likelihood of `landed` of `tries` where the day's rate is itself beta distributed with the given mean and
 * concentration (in attempts): a beta-binomial without its binomial coefficient, which does not depend on the
 * parameters. As the concentration grows it becomes landed·ln(mean) + missed·ln(1 − mean).
 *
 * @example
 * logBetaBinomial(1, 2, 0.5, 40) // -1.411
 */
export function logBetaBinomial(landed: number, tries: number, mean: number, concentration: number): number {
  const a = mean * concentration;
  const b = (1 - mean) * concentration;
  const missed = tries - landed;
  if (tries > productTries) return betaln(a + landed, b + missed) - betaln(a, b);
  let log = 0;
  let product = 1;
  for (let i = 0; i < tries; i++) {
    product *= (i < landed ? a + i : b + i - landed) / (concentration + i);
    if (product < 1e-200) {
      log += Math.log(product);
      product = 1;
    }
  }
  return log + Math.log(product);
}

/**
 * The concentration at a mean rate, from the one at a rate of one half. Days differ by about the same amount in log
 * odds whatever the rate, so rates near 0 and 1 differ little.
 *
 * @example
 * concentrationAt(0.5, 40) // 40
 * concentrationAt(0.02, 40) // 510.2
 */
export function concentrationAt(mean: number, atHalf: number): number {
  return atHalf / (4 * mean * (1 - mean));
}

/** Log likelihood of one day's count at evenly spaced log odds of the mean rate. */
export interface CountLikelihoodTable {
  readonly from: number;
  readonly step: number;
  readonly values: Float64Array;
}

/** Step of the table in log odds; with four-point interpolation the error stays below 1e-4. */
export const likelihoodTableStep = 0.1;

/** The value a share `t` of the way from point `i` to the next, through four points (cubic). */
function cubicBetween(values: Float64Array, i: number, t: number): number {
  const w0 = (-t * (t - 1) * (t - 2)) / 6;
  const w1 = ((t + 1) * (t - 1) * (t - 2)) / 2;
  const w2 = (-(t + 1) * t * (t - 2)) / 2;
  const w3 = ((t + 1) * t * (t - 1)) / 6;
  return w0 * values[i - 1]! + w1 * values[i]! + w2 * values[i + 1]! + w3 * values[i + 2]!;
}

/** Parts of a step of the table that are tabulated, too: between them a straight line stays within 1e-4. */
const parts = 16;

/** A table with values between its points: one row of `size` values for each part of a step, the first of them at `from`. */
export interface FineLikelihoodTable {
  readonly from: number;
  readonly step: number;
  readonly size: number;
  readonly values: Float64Array;
}

/** Tabulates the values between the points of a table; beyond its ends its end values. */
export function refineTable({ from, step, values }: CountLikelihoodTable): FineLikelihoodTable {
  const size = values.length;
  const fine = new Float64Array((parts + 1) * size);
  for (let part = 0; part <= parts; part++) {
    const row = part * size;
    fine[row] = values[0]!;
    for (let i = 1; i < size - 2; i++) fine[row + i] = cubicBetween(values, i, part / parts);
    fine.fill(values[size - 1]!, row + size - 2, row + size);
  }
  return { from, step, size, values: fine };
}

/**
 * Adds to `count` values of `out` from `offset` on the table read at x, x − gap, x − 2·gap, …, where `gap` is a whole
 * number of table steps, one or more (`stepsApart`). Beyond the ends of the table its end values are used.
 */
export function addInterpolated(
  table: FineLikelihoodTable,
  x: number,
  stepsApart: number,
  out: Float64Array,
  offset: number,
  count: number,
): void {
  const { values, size } = table;
  const at = (x - table.from) / table.step;
  const base = Math.floor(at);
  const part = Math.floor((at - base) * parts);
  const share = (at - base) * parts - part;
  // Entries before `inner` lie beyond the upper end, those from `outer` on beyond the lower one.
  const inner = clamp(Math.ceil((base - size + 3) / stepsApart), 0, count);
  const outer = clamp(Math.floor((base - 1) / stepsApart) + 1, inner, count);
  const end = offset + count;
  let to = offset;
  for (const high = values[size - 1]!; to < offset + inner; to++) out[to]! += high;
  for (let i = part * size + base - inner * stepsApart; to < offset + outer; to++, i -= stepsApart)
    out[to]! += values[i]! + share * (values[i + size]! - values[i]!);
  for (const low = values[0]!; to < end; to++) out[to]! += low;
}

/** Adds to `out[i]` the table read at `x[i]`, for every i; interpolates through four points (cubic). */
export function addInterpolatedPoints(table: CountLikelihoodTable, x: Float64Array, out: Float64Array): void {
  const { values, from, step } = table;
  const last = values.length - 3;
  const low = values[0]!;
  const high = values[values.length - 1]!;
  for (let i = 0; i < x.length; i++) {
    const at = (x[i]! - from) / step;
    const base = Math.floor(at);
    if (base > last) out[i]! += high;
    else if (base < 1) out[i]! += low;
    else out[i]! += cubicBetween(values, base, at - base);
  }
}
