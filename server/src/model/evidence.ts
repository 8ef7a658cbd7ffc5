/**
 * What one technique's own log says about its learning curve and its loss in runs: a likelihood on the grid.
 *
 * It depends on nothing but that technique's entries (and difficulty, for leaving out what is negligible), so it
 * can be kept until one of them changes.
 */
import type { Constants } from './constants.ts';
import { logits, midwayMean, practiceRates } from './grid.ts';
import type { CurveGrid } from './grid.ts';
import type { DayCount } from './history.ts';
import { addAlong, countTable, tableStep } from './likelihood.ts';
import type { CountTable } from './likelihood.ts';

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
  /** Slots of the grid that hold a kept curve, in rising order. */
  readonly slots: Int32Array;
  /** Likelihood of the practice counts for each kept curve; 1 where `runs` carries it. */
  readonly practice: Float64Array;
  /** Likelihood of all counts, curve by curve over the loss grid; null where no run was counted. */
  readonly runs: Float64Array | null;
  /** Prior shape weight × likelihood summed by slot; over the loss grid too where there are run counts. */
  readonly bySlot: Float64Array;
}

/** Log weights this far below the greatest are left out: below 2e-11 of it. */
const negligible = 25;

/** How many prior standard deviations of the loss the grid reaches to each side. */
const lossReach = 4.3;

/** The grid of losses in a run that covers the prior of the constants. */
export function lossGrid(constants: Constants): LossGrid {
  // A whole number of table steps, so that one set of interpolation weights serves a whole row.
  const step = Math.max(1, Math.round(constants.lossStep / tableStep)) * tableStep;
  const reach = lossReach * Math.hypot(constants.pressureSd, constants.ownPressureSd);
  const half = Math.ceil(reach / step);
  return { from: constants.pressureMean - half * step, step, count: 2 * half + 1 };
}

/** The mean practice rate of a day for every curve, weighted by attempts, as log odds. */
function dayLogits(grid: CurveGrid, day: DayCount): Float64Array {
  const first = day.readings[0];
  if (first === undefined) return new Float64Array(grid.curves);
  if (day.readings.length === 1) return logits(practiceRates(grid, first.level));
  const mean = new Float64Array(grid.curves);
  for (const reading of day.readings) {
    const rates = practiceRates(grid, reading.level);
    const share = reading.tries / day.tries;
    for (let i = 0; i < mean.length; i++) mean[i]! += share * rates[i]!;
  }
  return logits(mean);
}

/** Log prior of each curve with the runner's offset integrated out: only to tell what is negligible. */
function roughPrior(grid: CurveGrid, difficulty: number, constants: Constants): Float64Array {
  const mean = midwayMean(difficulty, 0, constants);
  const sd = Math.hypot(constants.midwaySd, constants.offsetSd);
  return grid.curveWeight.map((weight, curve) => {
    const z = (grid.slotMidway[grid.curveSlot[curve]!]! - mean) / sd;
    return Math.log(weight) - 0.5 * z * z;
  });
}

function heaviest(prior: Float64Array, likelihood: Float64Array): number {
  let best = -Infinity;
  for (let i = 0; i < prior.length; i++) best = Math.max(best, prior[i]! + likelihood[i]!);
  return best;
}

/** Builds the evidence of one technique; null where nothing was counted. `tables` holds tables already made. */
export function gatherEvidence(
  days: readonly DayCount[],
  difficulty: number,
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
  tables: Map<string, CountTable>,
): Evidence | null {
  if (days.length === 0) return null;
  const tableFor = (day: DayCount): CountTable => {
    const key = `${day.landed}/${day.tries}`;
    let table = tables.get(key);
    if (table === undefined) {
      table = countTable(day.landed, day.tries, constants.concentration, constants.rateFloor);
      tables.set(key, table);
    }
    return table;
  };

  const log = new Float64Array(grid.curves);
  for (const day of days) {
    if (day.inRun) continue;
    const table = tableFor(day);
    const x = dayLogits(grid, day);
    for (let i = 0; i < log.length; i++) addAlong(table, x[i]!, 0, log, i, 1);
  }
  const prior = roughPrior(grid, difficulty, constants);
  const runDays = days.filter((day) => day.inRun);
  if (runDays.length > 0) return withRuns(log, prior, runDays, grid, losses, tableFor);
  const kept: number[] = [];
  const top = heaviest(prior, log);
  let greatest = -Infinity;
  for (let i = 0; i < log.length; i++) {
    if (prior[i]! + log[i]! <= top - negligible) continue;
    kept.push(i);
    greatest = Math.max(greatest, log[i]!);
  }
  const curves = Int32Array.from(kept);
  const practice = Float64Array.from(kept, (curve) => Math.exp(log[curve]! - greatest));
  return {
    curves,
    slots: slotsOf(curves, grid),
    practice,
    runs: null,
    bySlot: sumBySlot(curves, practice, null, grid, losses.count),
  };
}

/**
 * Adds the run counts. The rows then carry the practice counts too, on one common scale: apart, two logs that
 * disagree could underflow.
 */
function withRuns(
  log: Float64Array,
  prior: Float64Array,
  days: readonly DayCount[],
  grid: CurveGrid,
  losses: LossGrid,
  tableFor: (day: DayCount) => CountTable,
): Evidence {
  const { count } = losses;
  const stepsApart = Math.round(losses.step / tableStep);
  const read = days.map((day) => ({ table: tableFor(day), x: dayLogits(grid, day) }));
  const addRow = (curve: number, to: Float64Array, at: number): number => {
    for (const { table, x } of read) addAlong(table, x[curve]! - losses.from, stepsApart, to, at, count);
    let best = -Infinity;
    for (let j = at; j < at + count; j++) best = Math.max(best, to[j]!);
    return best;
  };
  // What the runs can add to a curve at most, over what they add to the one that practice favours, bounds how far
  // behind a curve may be on practice alone and still matter.
  let favoured = 0;
  for (let i = 1; i < log.length; i++) {
    if (prior[i]! + log[i]! > prior[favoured]! + log[favoured]!) favoured = i;
  }
  const most = read.reduce((sum, { table }) => sum + table.values.reduce((a, b) => Math.max(a, b)), 0);
  const atFavoured = addRow(favoured, new Float64Array(count), 0);
  const floor = prior[favoured]! + log[favoured]! - negligible - (most - atFavoured);
  const likely: number[] = [];
  for (let i = 0; i < log.length; i++) if (prior[i]! + log[i]! > floor) likely.push(i);

  const all = new Float64Array(likely.length * count);
  const best = likely.map((curve, i) => log[curve]! + addRow(curve, all, i * count));
  const top = likely.reduce((most, curve, i) => Math.max(most, best[i]! + prior[curve]!), -Infinity);
  const kept = [...likely.keys()].filter((i) => best[i]! + prior[likely[i]!]! > top - negligible);
  const scale = kept.reduce((most, i) => Math.max(most, best[i]!), -Infinity);
  const curves = Int32Array.from(kept, (i) => likely[i]!);
  const runs = new Float64Array(kept.length * count);
  kept.forEach((i, to) => {
    const own = log[likely[i]!]! - scale;
    for (let j = 0; j < count; j++) runs[to * count + j] = Math.exp(all[i * count + j]! + own);
  });
  const practice = new Float64Array(kept.length).fill(1);
  return {
    curves,
    slots: slotsOf(curves, grid),
    practice,
    runs,
    bySlot: sumBySlot(curves, practice, runs, grid, count),
  };
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
): Float64Array {
  const width = runs === null ? 1 : count;
  const sums = new Float64Array(grid.slots * width);
  for (let i = 0; i < curves.length; i++) {
    const curve = curves[i]!;
    const weight = practice[i]! * grid.curveWeight[curve]!;
    const to = grid.curveSlot[curve]! * width;
    if (runs === null) sums[to]! += weight;
    else for (let j = 0; j < width; j++) sums[to + j]! += weight * runs[i * width + j]!;
  }
  return sums;
}
