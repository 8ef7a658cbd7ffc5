/** Functions of the level of practice, tabulated once because a search evaluates them many times. */

/** Values of a function at evenly spaced levels, starting at `from`. Beyond the ends the function is constant. */
export interface LevelTable {
  readonly from: number;
  readonly step: number;
  readonly values: Float64Array;
}

/** Step of the tables, in ln(1 + E/unit): small enough to follow every learning curve (steepness at most 5). */
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

/** Tabulates a function of the step number between two step numbers. All such tables use the same points. */
export function tabulateSteps(at: (index: number) => number, first: number, last: number): LevelTable {
  const count = Math.max(1, last - first) + 1;
  const values = Float64Array.from({ length: count }, (_, i) => at(first + i));
  return { from: first * levelStep, step: levelStep, values };
}

/**
 * The value of a table at a level, by linear interpolation between its points.
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

/**
 * The lowest level at which a condition holds that stays true at higher levels; Infinity if it does not hold at
 * `to`.
 */
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
