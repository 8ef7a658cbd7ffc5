/**
 * The likelihood of one technique's own log on the grid of learning curves and losses in runs.
 *
 * It depends only on that technique's entries (and on its difficulty, which decides which curves are negligible),
 * so it can be kept until one of them changes.
 */
import type { Constants } from '../core/constants.ts';
import { curveLogits, headStartOf, levelWithHeadStart, ratesToLogits } from './curveRates.ts';
import { midwayMean, midwaySdOf } from './slotPrior.ts';
import type { Rated } from '../core/rated.ts';
import type { CurveGrid } from './curveGrid.ts';
import type { DayCount, TriesAtLevel } from './practiceHistory.ts';
import {
  addInterpolated,
  addInterpolatedPoints,
  likelihoodTableStep,
  refineTable,
} from './countLikelihood.ts';
import type { CountLikelihoodTable, FineLikelihoodTable } from './countLikelihood.ts';
import type { CountTables } from './countTables.ts';
import { mostOfDays } from './mostOfDays.ts';

/** Evenly spaced values of the loss in a run against practice, in logits. */
export interface LossGrid {
  readonly from: number;
  readonly step: number;
  readonly count: number;
}

/** Likelihood of a technique's counts, up to a factor, on the curves that are not negligible. */
export interface Evidence {
  /** Curves kept. */
  readonly curves: Int32Array;
  /** Slots of the grid that contain a kept curve, in rising order. */
  readonly slots: Int32Array;
  /** Likelihood of the practice counts for each kept curve; 1 if `runs` already includes it. */
  readonly practice: Float64Array;
  /** Likelihood of all counts: one row over the loss grid for each curve; null if no run was counted. */
  readonly runs: Float64Array | null;
  /** For each kind of learner, prior shape weight × likelihood, summed by slot; one value for each loss if there are run counts. */
  readonly bySlot: readonly Float64Array[];
}

/** Curves whose log weight is this far below the greatest are left out (weight below 3e-7 of the greatest). */
const negligible = 15;

/** The loss grid extends this many prior standard deviations to each side. */
const lossReach = 4.3;

/** The grid of losses in a run that covers the prior of the constants. */
export function lossGrid(constants: Constants): LossGrid {
  // A whole number of table steps, so that one set of interpolation weights applies to a whole row.
  const step = Math.max(1, Math.round(constants.lossStep / likelihoodTableStep)) * likelihoodTableStep;
  const reach = lossReach * Math.hypot(constants.pressureSd, constants.ownPressureSd);
  const half = Math.ceil(reach / step);
  return { from: constants.pressureMean - half * step, step, count: 2 * half + 1 };
}

/** Days at nearly one level of practice, which are compared with the curves as one. */
interface LevelGroup {
  readings: readonly TriesAtLevel[];
  tries: number;
  /** The sum of the days' tables. */
  table: CountLikelihoodTable;
}

/**
 * Days whose levels differ by less than this are grouped; the difference changes the steepest curve by a fifth of a
 * logit at most.
 */
const sameLevel = 0.02;

/**
 * Groups consecutive days at nearly the same level at their mean level. The noise of each day stays separate.
 *
 * @param headStart e^(head start) of the curves that the groups are for: the more earlier practice, the less the logged
 *   practice changes the level
 */
function groupByLevel(
  days: readonly DayCount[],
  tableFor: (day: DayCount) => CountLikelihoodTable,
  headStart = 1,
): LevelGroup[] {
  const groups: LevelGroup[] = [];
  for (const day of days) {
    const last = groups.at(-1);
    const [before, now] = [last?.readings[0], day.readings[0]];
    const alike = last?.readings.length === 1 && day.readings.length === 1;
    const apart =
      alike && before && now
        ? Math.abs(levelWithHeadStart(now.level, headStart) - levelWithHeadStart(before.level, headStart))
        : Infinity;
    if (!last || !before || !now || apart > sameLevel) {
      groups.push({ readings: day.readings, tries: day.tries, table: tableFor(day) });
      continue;
    }
    const tries = last.tries + day.tries;
    last.readings = [{ level: (before.level * last.tries + now.level * day.tries) / tries, tries }];
    last.tries = tries;
    const { values } = tableFor(day);
    last.table = { ...last.table, values: last.table.values.map((value, i) => value + values[i]!) };
  }
  return groups;
}

/** The mean practice rate of a day, or of a group of days, for the given curves, weighted by tries, as log odds. */
export function triesLogits(
  grid: CurveGrid,
  curves: Int32Array,
  { readings, tries }: Pick<DayCount, 'readings' | 'tries'>,
): Float64Array {
  const [first] = readings;
  if (first === undefined) return new Float64Array(curves.length);
  if (readings.length === 1) return curveLogits(grid, curves, first.level);
  const mean = new Float64Array(curves.length);
  for (const reading of readings) {
    const share = reading.tries / tries;
    const x = curveLogits(grid, curves, reading.level);
    for (let i = 0; i < x.length; i++) mean[i]! += share / (1 + Math.exp(-x[i]!));
  }
  return ratesToLogits(mean);
}

/** Log prior of each curve with the runner's offset integrated out. Used only to decide which curves are negligible. */
function roughPrior(grid: CurveGrid, rated: Rated, constants: Constants): Float64Array {
  const mean = midwayMean(rated, 0, constants);
  const sd = Math.hypot(midwaySdOf(rated, constants), constants.offsetSd);
  const prior = new Float64Array(grid.curves);
  for (let curve = 0; curve < prior.length; curve++) {
    const z = (grid.slotMidway[grid.curveSlot[curve]!]! - mean) / sd;
    prior[curve] = grid.curveLogWeight[curve]! - 0.5 * z * z;
  }
  return prior;
}

/** Whether negligible curves are looked for after the group with a number: after the last, and less often the more there are. */
function isCheckpoint(number: number, groups: number): boolean {
  return number === 0 || number === groups - 1 || Number.isInteger(Math.log2(number));
}

/** Builds the evidence of one technique; null where nothing was counted. `tables` are those of the constants. */
export function gatherEvidence(
  days: readonly DayCount[],
  rated: Rated,
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
  tables: CountTables,
): Evidence | null {
  if (days.length === 0) return null;
  const tableFor = ({ landed, tries }: DayCount): CountLikelihoodTable => tables.of(landed, tries);
  const inPractice = days.filter((day) => !day.inRun);
  const inRuns = days.filter((day) => day.inRun);
  const practice = groupByLevel(inPractice, tableFor).sort((a, b) => b.tries - a.tries);
  const runs = runRows(inRuns, tableFor, grid, losses, constants);
  const prior = roughPrior(grid, rated, constants);

  let curves = new Int32Array(grid.curves);
  for (let i = 0; i < curves.length; i++) curves[i] = i;
  let log = new Float64Array(curves.length);
  const known = new Set<number>();
  let top = -Infinity;
  for (const [number, group] of practice.entries()) {
    addInterpolatedPoints(group.table, triesLogits(grid, curves, group), log);
    if (!isCheckpoint(number, practice.length)) continue;
    const rest = mostOfDays(practice.slice(number + 1));
    // A curve can be left out if even the most that the remaining groups can add leaves it far behind the most
    // probable curve, with all groups counted for that one.
    const probable = curves[mostProbable(curves, prior, log)]!;
    if (!known.has(probable)) {
      known.add(probable);
      top = Math.max(top, prior[probable]! + likelihoodOf(probable, practice, runs, grid));
    }
    const least = top - negligible - rest - runs.most;
    let kept = 0;
    for (let i = 0; i < curves.length; i++) {
      const curve = curves[i]!;
      if (!(prior[curve]! + log[i]! > least)) continue;
      curves[kept] = curve;
      log[kept++] = log[i]!;
    }
    curves = curves.subarray(0, kept);
    log = log.subarray(0, kept);
  }
  return inRuns.length === 0
    ? withoutRuns(curves, log, grid, losses)
    : withRuns(curves, log, prior, runs, grid, losses);
}

/** Log likelihood of all counts on one curve, at its best loss in runs with the log prior of the loss added. */
function likelihoodOf(
  curve: number,
  practice: readonly LevelGroup[],
  runs: RunRows,
  grid: CurveGrid,
): number {
  const one = Int32Array.of(curve);
  const log = new Float64Array(1);
  for (const group of practice) addInterpolatedPoints(group.table, triesLogits(grid, one, group), log);
  return log[0]! + runs.best(runs.of(one), 0);
}

/** Index of the curve with the most prior × likelihood. */
function mostProbable(curves: Int32Array, prior: Float64Array, log: Float64Array): number {
  let best = 0;
  for (let i = 1; i < curves.length; i++) {
    if (prior[curves[i]!]! + log[i]! > prior[curves[best]!]! + log[best]!) best = i;
  }
  return best;
}

/** The log likelihood of the run counts: one row for each curve, one value for each loss. */
interface RunRows {
  /** Rows of the given curves. */
  readonly of: (curves: Int32Array) => Float64Array;
  /** The greatest value of one row, with the log prior of the loss added. */
  readonly best: (rows: Float64Array, row: number) => number;
  /** Upper bound of the values of all rows. */
  readonly most: number;
}

function runRows(
  days: readonly DayCount[],
  tableFor: (day: DayCount) => CountLikelihoodTable,
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
): RunRows {
  const { count, from, step } = losses;
  const stepsApart = Math.round(step / likelihoodTableStep);
  const sd = Math.hypot(constants.pressureSd, constants.ownPressureSd);
  const prior = Float64Array.from({ length: count }, (_, j) => {
    const z = (from + j * step - constants.pressureMean) / sd;
    return -0.5 * z * z;
  });
  // A day that is not grouped has the same table whatever the head start.
  const refined = new Map<CountLikelihoodTable, FineLikelihoodTable>();
  const fineOf = (table: CountLikelihoodTable): FineLikelihoodTable => {
    const fine = refined.get(table) ?? refineTable(table);
    refined.set(table, fine);
    return fine;
  };
  const byHeadStart = Array.from(grid.headStartFactors, (headStart) =>
    groupByLevel(days, tableFor, headStart).map((group) => ({ ...group, fine: fineOf(group.table) })),
  );
  return {
    of: (curves) => {
      const rows = new Float64Array(curves.length * count);
      byHeadStart.forEach((groups, head) => {
        const places = placesOf(grid, curves, head);
        const own = places.map((i) => curves[i]!);
        for (const group of groups) {
          const x = triesLogits(grid, own, group);
          for (let i = 0; i < x.length; i++)
            addInterpolated(group.fine, x[i]! - from, stepsApart, rows, places[i]! * count, count);
        }
      });
      return rows;
    },
    best: (rows, row) => {
      let best = -Infinity;
      for (let j = 0; j < count; j++) best = Math.max(best, rows[row * count + j]! + prior[j]!);
      return best;
    },
    most: Math.max(...byHeadStart.map(mostOfDays)),
  };
}

/** Places in a list of curves of those with a head start. */
function placesOf(grid: CurveGrid, curves: Int32Array, head: number): Int32Array {
  const places = new Int32Array(curves.length);
  let count = 0;
  for (let i = 0; i < curves.length; i++) if (headStartOf(grid, curves[i]!) === head) places[count++] = i;
  return places.subarray(0, count);
}

function withoutRuns(curves: Int32Array, log: Float64Array, grid: CurveGrid, losses: LossGrid): Evidence {
  const greatest = log.reduce((a, b) => Math.max(a, b), -Infinity);
  const practice = log.map((value) => Math.exp(value - greatest));
  const bySlot = sumBySlot(curves, practice, null, grid, losses.count);
  return { curves, slots: slotsOf(curves, grid), practice, runs: null, bySlot };
}

/**
 * Adds the run counts. The rows then include the practice counts too, on one common scale: if practice and runs
 * disagree, their product could underflow with separate scales.
 */
function withRuns(
  likely: Int32Array,
  log: Float64Array,
  prior: Float64Array,
  runs: RunRows,
  grid: CurveGrid,
  losses: LossGrid,
): Evidence {
  const { count } = losses;
  const all = runs.of(likely);
  const best = new Float64Array(likely.length);
  let top = -Infinity;
  for (let i = 0; i < best.length; i++) {
    best[i] = log[i]! + runs.best(all, i);
    top = Math.max(top, best[i]! + prior[likely[i]!]!);
  }
  const kept: number[] = [];
  let scale = -Infinity;
  for (let i = 0; i < best.length; i++) {
    if (!(best[i]! + prior[likely[i]!]! > top - negligible)) continue;
    kept.push(i);
    scale = Math.max(scale, best[i]!);
  }
  const curves = Int32Array.from(kept, (i) => likely[i]!);
  const rows = new Float64Array(kept.length * count);
  for (let to = 0, at = 0; to < kept.length; to++) {
    const i = kept[to]!;
    const own = log[i]! - scale;
    for (let j = 0; j < count; j++, at++) rows[at] = Math.exp(all[i * count + j]! + own);
  }
  const practice = new Float64Array(kept.length).fill(1);
  const bySlot = sumBySlot(curves, practice, rows, grid, count);
  return { curves, slots: slotsOf(curves, grid), practice, runs: rows, bySlot };
}

function slotsOf(curves: Int32Array, grid: CurveGrid): Int32Array {
  const slots = new Set<number>();
  for (const curve of curves) slots.add(grid.curveSlot[curve]!);
  return Int32Array.from(slots).sort();
}

function sumBySlot(
  curves: Int32Array,
  practice: Float64Array,
  runs: Float64Array | null,
  grid: CurveGrid,
  count: number,
): Float64Array[] {
  return grid.learnerWeights.map((weights) => sumBySlotFor(weights, curves, practice, runs, grid, count));
}

function sumBySlotFor(
  weights: Float64Array,
  curves: Int32Array,
  practice: Float64Array,
  runs: Float64Array | null,
  grid: CurveGrid,
  count: number,
): Float64Array {
  const width = runs === null ? 1 : count;
  const sums = new Float64Array(grid.slots * width);
  for (let i = 0; i < curves.length; i++) {
    const curve = curves[i]!;
    const weight = practice[i]! * weights[curve]!;
    const to = grid.curveSlot[curve]! * width;
    if (runs === null) sums[to]! += weight;
    else for (let j = 0; j < width; j++) sums[to + j]! += weight * runs[i * width + j]!;
  }
  return sums;
}
