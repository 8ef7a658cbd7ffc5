/**
 * What one technique may have been like on some of its days: a list of possible courses, each with a weight from the prior
 * and the log odds of landing on each of the days.
 *
 * A course stands for all combinations of curve and loss in a run that agree on those days. There are a few hundred courses
 * where there are tens of thousands of combinations, so that they can be weighed again and again.
 */
import { clamp } from '../core/numbers.ts';
import { triesLogits } from './evidence.ts';
import type { Evidence, LossGrid } from './evidence.ts';
import type { CurveGrid } from './curveGrid.ts';
import type { DayCount } from './practiceHistory.ts';

/** A technique whose counts have been compared with the learning curves. */
export interface ComparedTechnique {
  readonly evidence: Evidence;
  readonly grid: CurveGrid;
  readonly losses: LossGrid;
  /** The prior without its own counts: one row over the losses for each slot of the grid. */
  readonly prior: Float64Array;
}

export interface PossibleCourses {
  /** Prior weight of each course; they sum to 1. */
  readonly weights: Float64Array;
  /** For each day the log odds of landing of each course. */
  readonly logits: readonly Float64Array[];
}

/** Combinations that all counts make so much less likely than the likeliest one are left out. */
const negligible = 1e-7;

/** Combinations agree on a day if their log odds lie in the same part of this width. */
const alike = 0.2;

/** Parts on each side of even odds; log odds beyond them count as in the last one. */
const parts = 63;

/**
 * The possible courses of a technique.
 *
 * @param days some of the technique's days, in order
 */
export function possibleCourses(technique: ComparedTechnique, days: readonly DayCount[]): PossibleCourses {
  const { evidence, grid } = technique;
  const inPractice = days.map((day) => triesLogits(grid, evidence.curves, day));
  const { curve, loss, weight } = combinationsOf(technique);
  const lost = (day: DayCount): number => (day.inRun ? 1 : 0);
  const told = tellingDays(days);
  const found = new Map<number, number>();
  const courseOf = new Int32Array(curve.length);
  for (let n = 0; n < curve.length; n++) {
    let key = 0;
    for (const d of told) {
      const part = Math.round((inPractice[d]![curve[n]!]! - lost(days[d]!) * loss[n]!) / alike);
      key = key * (2 * parts + 1) + clamp(part, -parts, parts) + parts;
    }
    const course = found.get(key) ?? found.size;
    found.set(key, course);
    courseOf[n] = course;
  }
  const weights = new Float64Array(found.size);
  const losing = new Float64Array(found.size);
  for (let n = 0; n < curve.length; n++) {
    weights[courseOf[n]!]! += weight[n]!;
    losing[courseOf[n]!]! += weight[n]! * loss[n]!;
  }
  // All of a course's combinations count with their mean log odds. The mean loss is the same on all days.
  const logits = days.map((day, d) => {
    const practised = inPractice[d]!;
    const sums = new Float64Array(weights.length);
    for (let n = 0; n < curve.length; n++) sums[courseOf[n]!]! += weight[n]! * practised[curve[n]!]!;
    for (let c = 0; c < sums.length; c++) sums[c] = (sums[c]! - lost(day) * losing[c]!) / weights[c]!;
    return sums;
  });
  const total = weights.reduce((sum, own) => sum + own, 0);
  return { weights: weights.map((own) => own / total), logits };
}

/** Combinations of curve and loss. */
interface Combinations {
  /** Place of the curve in the list of curves that are not negligible. */
  readonly curve: Int32Array;
  /** Loss in a run, log odds. */
  readonly loss: Float64Array;
  /** Prior weight. */
  readonly weight: Float64Array;
}

/** The combinations that the counts do not make negligible. */
function combinationsOf({ evidence, grid, losses, prior }: ComparedTechnique): Combinations {
  const { curves, practice, runs } = evidence;
  const width = losses.count;
  const weights = new Float64Array(curves.length * width);
  const masses = new Float64Array(weights.length);
  let top = 0;
  for (let i = 0, at = 0; i < curves.length; i++) {
    const own = grid.curveWeight[curves[i]!]!;
    const slot = grid.curveSlot[curves[i]!]! * width;
    for (let j = 0; j < width; j++, at++) {
      const weight = own * prior[slot + j]!;
      const mass = weight * practice[i]! * (runs === null ? 1 : runs[at]!);
      weights[at] = weight;
      masses[at] = mass;
      if (mass > top) top = mass;
    }
  }
  const least = negligible * top;
  let count = 0;
  for (let at = 0; at < masses.length; at++) if (masses[at]! > least) count++;
  const kept = {
    curve: new Int32Array(count),
    loss: new Float64Array(count),
    weight: new Float64Array(count),
  };
  for (let i = 0, at = 0, to = 0; i < curves.length; i++) {
    for (let j = 0; j < width; j++, at++) {
      if (!(masses[at]! > least)) continue;
      kept.curve[to] = i;
      kept.loss[to] = losses.from + j * losses.step;
      kept.weight[to++] = weights[at]!;
    }
  }
  return kept;
}

/**
 * The days on which combinations have to agree: the first, the middle and the last one, and a day of runs where the others
 * are days of practice, because it tells the losses apart.
 */
function tellingDays(days: readonly DayCount[]): number[] {
  const all = [...days.keys()];
  const practised = all.filter((d) => !days[d]!.inRun);
  const run = all.filter((d) => days[d]!.inRun);
  const main = practised.length > 0 ? practised : run;
  const middle = (own: readonly number[]): number => own[own.length >> 1]!;
  const told = [main[0]!, middle(main), main.at(-1)!];
  if (practised.length > 0 && run.length > 0) told.push(middle(run));
  return [...new Set(told)];
}
