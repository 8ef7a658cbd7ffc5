/**
 * The most that counts of several days can add to the log likelihood of any learning curve.
 *
 * It is less than the sum of what each day can add by itself, because no curve lands less often at a higher level of practice.
 */
import type { CountLikelihoodTable } from './countLikelihood.ts';
import type { TriesAtLevel } from './practiceHistory.ts';

/** Days that are compared with the curves as one: their tries by level, and what they say of the log odds of the rate. */
export interface CountsAtLevel {
  readonly readings: readonly TriesAtLevel[];
  /** Tables of days that are added up have the same points. */
  readonly table: CountLikelihoodTable;
}

/** The most that each of the days can add by itself, summed. */
export function mostOfEach(days: readonly CountsAtLevel[]): number {
  let sum = 0;
  for (const { table } of days) {
    let top = -Infinity;
    for (const value of table.values) if (value > top) top = value;
    sum += top;
  }
  return sum;
}

/**
 * An upper bound of what days can add together: the best rates that do not fall from one level to the next higher one. Days
 * whose tries were at several levels are bounded each by itself.
 *
 * S, from memory: isotonic regression (Barlow and Brunk 1972, The Isotonic Regression Problem and its Dual), solved by the plain
 * dynamic programme over a grid of values.
 */
export function mostOfDays(days: readonly CountsAtLevel[]): number {
  const alone: CountsAtLevel[] = [];
  const byLevel: { readonly level: number; readonly values: Float64Array }[] = [];
  for (const day of days) {
    const [first, ...others] = day.readings;
    if (first === undefined || others.length > 0) alone.push(day);
    else byLevel.push({ level: first.level, values: day.table.values });
  }
  byLevel.sort((a, b) => a.level - b.level);
  const upTo = new Float64Array(byLevel[0]?.values.length ?? 0);
  let bend = 0;
  for (const { values } of byLevel) {
    bend += sharpestBend(values);
    let best = -Infinity;
    for (let i = 0; i < upTo.length; i++) {
      if (upTo[i]! > best) best = upTo[i]!;
      upTo[i] = best + values[i]!;
    }
  }
  let top = byLevel.length > 0 ? -Infinity : 0;
  for (const value of upTo) if (value > top) top = value;
  // Days with the same rate have their best between two points of the table: above the nearer one by an eighth of their bend at most.
  return mostOfEach(alone) + top + bend / 8;
}

/** The greatest fall of the slope of a table from one point to the next. */
function sharpestBend(values: Float64Array): number {
  let bend = 0;
  for (let i = 1; i < values.length - 1; i++)
    bend = Math.max(bend, 2 * values[i]! - values[i - 1]! - values[i + 1]!);
  return bend;
}
