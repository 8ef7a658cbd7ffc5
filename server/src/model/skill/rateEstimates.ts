/** Rates, chances and expected values from a technique's posterior, at a level of practice. */
import { curveLogits } from './curveRates.ts';
import { logistic } from '../core/numbers.ts';
import type { SkillPosterior } from './skillPosterior.ts';
import { interpolateTable } from '../core/rateTable.ts';
import type { RateTable } from '../core/rateTable.ts';
import type { Estimate } from '../core/types.ts';

/** Log odds in practice of every kept curve at a level of practice. */
export function practiceLogits(posterior: SkillPosterior, level: number): Float64Array {
  return curveLogits(posterior.grid, posterior.curves, level);
}

/** Mean landing rate in practice over the posterior. `x` is the log odds of every kept curve. */
export function meanPracticeRate(posterior: SkillPosterior, x: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += posterior.mass[i]! * logistic(x[i]!);
  return sum;
}

/**
 * Chance that the rate in practice is below the one with log odds `edge`. The mass of each curve is spread over a
 * narrow range of log odds, so that the chance has no jumps.
 */
function practiceBelow(posterior: SkillPosterior, x: Float64Array, edge: number): number {
  let sum = 0;
  const ramp = 0.2;
  for (let i = 0; i < x.length; i++) {
    const t = (edge - x[i]!) / ramp + 0.5;
    if (t > 0) sum += t < 1 ? posterior.mass[i]! * t : posterior.mass[i]!;
  }
  return sum;
}

/**
 * Chance that the landing rate in a run is above the one with log odds `edge`. The loss is spread evenly within
 * each step of its grid.
 */
export function chanceRunRateAbove(posterior: SkillPosterior, x: Float64Array, edge: number): number {
  const { losses, rows, cumulative, weight, row } = posterior;
  const width = losses.count;
  if (edge === -Infinity) return 1;
  let sum = 0;
  for (let i = 0; i < x.length; i++) {
    const at = (x[i]! - edge - losses.from) / losses.step + 0.5;
    if (at <= 0) continue;
    const start = row[i]! * (width + 1);
    if (at >= width) sum += weight[i]! * cumulative[start + width]!;
    else {
      const cell = Math.floor(at);
      sum += weight[i]! * (cumulative[start + cell]! + (at - cell) * rows[row[i]! * width + cell]!);
    }
  }
  return Math.min(1, sum);
}

/** Expected value of a function of the landing rate in a run. */
export function expectationInRun(posterior: SkillPosterior, x: Float64Array, table: RateTable): number {
  const { losses, rows, weight, row } = posterior;
  const width = losses.count;
  const { values } = table;
  const last = values.length - 1;
  let sum = 0;
  for (let i = 0; i < x.length; i++) {
    let own = 0;
    let at = (x[i]! - losses.from - table.from) / table.step;
    const fall = losses.step / table.step;
    for (let j = 0, r = row[i]! * width; j < width; j++, r++, at -= fall) {
      let value: number;
      if (at <= 0) value = values[0]!;
      else if (at >= last) value = values[last]!;
      else {
        const base = at | 0;
        value = values[base]! + (at - base) * (values[base + 1]! - values[base]!);
      }
      own += rows[r]! * value;
    }
    sum += weight[i]! * own;
  }
  return sum;
}

/** Whether so many curves share rows that the sum over the losses is computed once for each row. */
export function sharesRows({ rows, losses, curves }: SkillPosterior): boolean {
  return (rows.length / losses.count) * 4 <= curves.length;
}

/** Evenly spaced log odds in practice at which those sums are computed: the steps of a table, and as far as losses reach. */
export interface PracticeGrid {
  readonly from: number;
  readonly step: number;
  readonly points: number;
}

export function practiceGrid({ losses }: SkillPosterior, table: RateTable): PracticeGrid {
  const reach = losses.from + (losses.count - 1) * losses.step;
  const { step } = table;
  const from = table.from + Math.min(0, losses.from);
  return { from, step, points: Math.ceil((-table.from + Math.max(0, reach) - from) / step) + 1 };
}

export function placeOnGrid(
  { from, step, points }: PracticeGrid,
  x: number,
): { base: number; share: number } {
  const at = Math.min(points - 1.000001, Math.max(0, (x - from) / step));
  const base = at | 0;
  return { base, share: at - base };
}

/**
 * Like {@link expectationInRun}, but faster for many calls: if curves share rows, the sum over the losses is
 * computed once for each row, and each curve then needs a single look-up.
 */
export function expectationFunction(
  posterior: SkillPosterior,
  table: RateTable,
): (x: Float64Array) => number {
  const { losses, rows, weight, row } = posterior;
  const width = losses.count;
  const rowCount = rows.length / width;
  if (!sharesRows(posterior)) return (x) => expectationInRun(posterior, x, table);
  const { from, step, points } = practiceGrid(posterior, table);
  const summed = new Float64Array(rowCount * points);
  const used = new Uint8Array(rowCount);
  for (const r of row) used[r] = 1;
  const fine = Float64Array.from({ length: points * width }, (_, i) => {
    const point = Math.floor(i / width);
    return interpolateTable(table, from + point * step - losses.from - (i % width) * losses.step);
  });
  for (let r = 0; r < rowCount; r++) {
    if (used[r] === 0) continue;
    for (let point = 0; point < points; point++) {
      let sum = 0;
      for (let j = 0; j < width; j++) sum += rows[r * width + j]! * fine[point * width + j]!;
      summed[r * points + point] = sum;
    }
  }
  return (x) => {
    let total = 0;
    for (let i = 0; i < x.length; i++) {
      const at = Math.min(points - 1.000001, Math.max(0, (x[i]! - from) / step));
      const base = at | 0;
      const low = summed[row[i]! * points + base]!;
      total += weight[i]! * (low + (at - base) * (summed[row[i]! * points + base + 1]! - low));
    }
    return total;
  };
}

const edge = 9.3;

/** The rate at which `below` reaches `share`, by a fixed number of bisections of the log odds. */
function rateQuantile(below: (edge: number) => number, share: number): number {
  let low = -edge;
  let high = edge;
  for (let i = 0; i < 18; i++) {
    const middle = (low + high) / 2;
    if (below(middle) < share) low = middle;
    else high = middle;
  }
  return logistic((low + high) / 2);
}

/** Landing rate in practice: mean, 10 % and 90 % quantiles. */
export function practiceEstimate(posterior: SkillPosterior, x: Float64Array): Estimate {
  const below = (at: number): number => practiceBelow(posterior, x, at);
  return {
    mean: meanPracticeRate(posterior, x),
    low: rateQuantile(below, 0.1),
    high: rateQuantile(below, 0.9),
  };
}

/** Landing rate in a run: mean, 10 % and 90 % quantiles. `rates` is the table of the rate itself. */
export function runEstimate(posterior: SkillPosterior, x: Float64Array, rates: RateTable): Estimate {
  const below = (at: number): number => 1 - chanceRunRateAbove(posterior, x, at);
  return {
    mean: expectationInRun(posterior, x, rates),
    low: rateQuantile(below, 0.1),
    high: rateQuantile(below, 0.9),
  };
}
