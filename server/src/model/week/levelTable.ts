/** Functions of the level of practice, tabulated once so that a search can ask them many times. */

/** Values at evenly spaced levels, rising from `from`; flat beyond the ends. */
export interface LevelTable {
  readonly from: number;
  readonly step: number;
  readonly values: Float64Array;
}

/** Step of the tables, in ln(1 + E/unit): fine beside the bend of any learning curve (steepness at most 5). */
export const levelStep = 0.06;

/** Tabulates a function from one level to another. */
export function tabulateLevels(at: (level: number) => number, from: number, to: number): LevelTable {
  const count = Math.max(1, Math.ceil((to - from) / levelStep)) + 1;
  return {
    from,
    step: levelStep,
    values: Float64Array.from({ length: count }, (_, i) => at(from + i * levelStep)),
  };
}

/** Tabulates a function of the number of a step from one step to another: all such tables share their points. */
export function tabulateSteps(at: (index: number) => number, first: number, last: number): LevelTable {
  const count = Math.max(1, last - first) + 1;
  const values = Float64Array.from({ length: count }, (_, i) => at(first + i));
  return { from: first * levelStep, step: levelStep, values };
}

/**
 * Reads a table, linear between its points.
 *
 * @example
 * readLevelTable(tabulateLevels((level) => 2 * level, 0, 4), 1.5) // 3.00
 */
export function readLevelTable({ from, step, values }: LevelTable, level: number): number {
  const at = (level - from) / step;
  const last = values.length - 1;
  if (!(at > 0)) return values[0]!;
  if (at >= last) return values[last]!;
  const base = at | 0;
  const low = values[base]!;
  return low + (at - base) * (values[base + 1]! - low);
}

/** The least level at which a rising function holds; infinite where it does not hold at `to`. */
export function lowestLevelWhere(holds: (level: number) => boolean, from: number, to: number): number {
  if (holds(from)) return -Infinity;
  if (!holds(to)) return Infinity;
  let low = from;
  let high = to;
  for (let i = 0; i < 14; i++) {
    const middle = (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}
