/** Small numeric helpers shared by the model. */

/** Minutes of a day: no block and no day of practice has more. */
export const minutesPerDay = 24 * 60;

/**
 * `value` limited to the range [low, high]; `low` if it is NaN.
 *
 * @example
 * clamp(12, 0, 10) // 10
 * clamp(NaN, 0, 10) // 0
 */
export function clamp(value: number, low: number, high: number): number {
  return value > low ? Math.min(value, high) : low;
}

/**
 * `value` if it is finite, else `otherwise`.
 *
 * @example
 * finiteOr(Infinity, 5) // 5
 */
export function finiteOr(value: number, otherwise: number): number {
  return Number.isFinite(value) ? value : otherwise;
}

/**
 * Logarithm of the sum of what the logarithms stand for.
 *
 * @example
 * logSum([Math.log(2), Math.log(3)]) // 1.6094
 * logSum([]) // -Infinity
 */
export function logSum(logs: ArrayLike<number>): number {
  let top = -Infinity;
  for (let i = 0; i < logs.length; i++) top = Math.max(top, logs[i]!);
  if (top === -Infinity) return top;
  let sum = 0;
  for (let i = 0; i < logs.length; i++) sum += Math.exp(logs[i]! - top);
  return top + Math.log(sum);
}

/**
 * The logistic function, 1 / (1 + e^-x).
 *
 * @example
 * logistic(0) // 0.5
 */
export function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}

/**
 * The log odds of `p`; infinite at 0 and 1.
 *
 * @example
 * logit(0.75) // 1.0986
 */
export function logit(p: number): number {
  return Math.log(p / (1 - p));
}

/**
 * The middle value of a list (mean of the two middle ones); undefined for an empty list.
 *
 * @example
 * median([3, 1, 2, 10]) // 2.5
 * median([]) // undefined
 */
export function median(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((a, b) => a - b);
  const upper = sorted[sorted.length >> 1];
  const lower = sorted[(sorted.length - 1) >> 1];
  return upper === undefined || lower === undefined ? undefined : (lower + upper) / 2;
}

/**
 * Compares two texts by their UTF-16 code units; unlike a locale-dependent order, the result is the same on every
 * platform.
 *
 * @example
 * ['b', 'a', 'B'].sort(compareCodeUnits) // ['B', 'a', 'b']
 */
export function compareCodeUnits(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * The quantile of a discrete distribution: the point below which a share `level` (0 to 1) of the total mass lies.
 * `points` are in rising order; the mass of each point is spread evenly up to half-way to its neighbours.
 *
 * @example
 * weightedQuantile(new Float64Array([0, 1, 2]), new Float64Array([1, 1, 1]), 0.5) // 1
 */
export function weightedQuantile(points: Float64Array, masses: Float64Array, level: number): number {
  let total = 0;
  for (const mass of masses) total += mass;
  const wanted = level * total;
  let below = 0;
  for (let i = 0; i < points.length; i++) {
    const mass = masses[i] ?? 0;
    if (mass > 0 && below + mass >= wanted) {
      const here = points[i] ?? 0;
      const left = i > 0 ? ((points[i - 1] ?? here) + here) / 2 : here;
      const right = i + 1 < points.length ? ((points[i + 1] ?? here) + here) / 2 : here;
      return left + ((right - left) * (wanted - below)) / mass;
    }
    below += mass;
  }
  return points.at(-1) ?? 0;
}
