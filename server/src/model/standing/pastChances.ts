/**
 * The chance that trying a technique in a run paid, as it could be known after each day of its log.
 *
 * Today's levels of practice and today's knowledge of the runner are used throughout, so that the days can be added
 * one after the other, and a past day changes little with the entries of other techniques.
 */
import {
  addInterpolated,
  addInterpolatedPoints,
  likelihoodTableStep,
  refineTable,
} from '../skill/countLikelihood.ts';
import { curveLogits } from '../skill/curveRates.ts';
import type { CurveGrid } from '../skill/curveGrid.ts';
import { countTablesIn } from '../skill/countTables.ts';
import type { CountTables } from '../skill/countTables.ts';
import { triesLogits } from '../skill/evidence.ts';
import type { LossGrid } from '../skill/evidence.ts';
import type { DayCount } from '../skill/practiceHistory.ts';
import { levelOnMorning } from '../skill/practiceState.ts';
import { wordLikelihood } from '../skill/runnersWord.ts';
import type { FittedTechnique, PreparedModel } from '../run/preparedModel.ts';

/** The chance on the morning after a day with entries. */
export interface PastChance {
  readonly day: number;
  readonly chance: number;
}

/** How far back the past is looked at, in days: eight weeks. */
const memoryDays = 56;

/**
 * The chances after each day with entries of the last eight weeks, latest first.
 *
 * @param edge log odds of the landing rate from which trying it pays, as the route is today
 */
export function pastChances(
  subject: FittedTechnique,
  prepared: PreparedModel,
  edge: number,
): readonly PastChance[] {
  const { history, prior, paysFrom, posterior, memory } = subject;
  const { asOfDay, constants } = prepared;
  const from = asOfDay - memoryDays;
  const on = [history, prior, paysFrom, posterior.grid, edge, constants, from];
  return memory.getOrCompute('past chances', on, () => {
    const evidence = new GrowingEvidence(subject, prepared);
    const recent = history.states.filter((state) => state.day! >= from);
    const chances = recent.map((state): PastChance => {
      const day = state.day!;
      evidence.addUpTo(day);
      return { day, chance: evidence.chanceRunRateAbove(levelOnMorning(state, day + 1, constants), edge) };
    });
    return chances.reverse();
  });
}

/** Curves whose weight is below this share of the greatest are left out from then on. */
const negligible = 1e-10;

/** Where many days are added before anybody asks, negligible curves are looked for after so many. */
const daysBetweenDrops = 8;

/** The learning curves of one technique with the likelihood of its counts, to which days are added one by one. */
export class GrowingEvidence {
  private readonly grid: CurveGrid;
  private readonly losses: LossGrid;
  private readonly prior: Float64Array;
  private readonly tables: CountTables;
  /** Running sums of each row of the prior. */
  private readonly cumulative: Float64Array;
  private curves: Int32Array;
  /** Prior weight of the shape × likelihood of the practice counts, as a logarithm, by curve. */
  private log: Float64Array;
  /** Log likelihood of the run counts: one row over the losses for each curve; null before the first run. */
  private rows: Float64Array | null = null;

  /** The days with counts, in order, and the number of those that were added. */
  private readonly days: readonly DayCount[];
  private added = 0;

  constructor(
    { history, prior, paysFrom, posterior: { grid } }: FittedTechnique,
    { constants, losses, shared }: PreparedModel,
  ) {
    this.grid = grid;
    this.losses = losses;
    this.prior = prior;
    this.tables = countTablesIn(shared, constants);
    this.days = [...history.days].sort((a, b) => a.day - b.day);
    this.curves = Int32Array.from({ length: grid.curves }, (_, i) => i);
    this.log = grid.curveLogWeight.slice();
    if (paysFrom !== null) this.rows = wordLikelihood(grid, this.curves, losses, paysFrom).map(Math.log);
    const { count } = losses;
    this.cumulative = new Float64Array(grid.slots * (count + 1));
    for (let slot = 0; slot < grid.slots; slot++)
      for (let j = 0; j < count; j++)
        this.cumulative[slot * (count + 1) + j + 1] =
          this.cumulative[slot * (count + 1) + j]! + prior[slot * count + j]!;
    this.dropNegligible(grid.curveWeight.map((weight, i) => weight * this.priorOf(i)));
  }

  /** Adds the days up to this one that were not added before. */
  addUpTo(day: number): void {
    while (this.added < this.days.length && this.days[this.added]!.day <= day) {
      this.add(this.days[this.added++]!);
      if (this.added % daysBetweenDrops === 0) this.dropNegligible(this.weightsAtBestLoss());
    }
  }

  /** Of each curve the logarithm of its weight, without the prior, at the loss that explains its runs best; and the greatest. */
  private logsAtBestLoss(): { readonly logs: Float64Array; readonly top: number } {
    const { log, rows } = this;
    const { count } = this.losses;
    const logs = log.map((own, i) => own + (rows === null ? 0 : rowMaximum(rows, i * count, count)));
    return { logs, top: logs.reduce((a, b) => Math.max(a, b), -Infinity) };
  }

  /** The weight that each curve would have at that loss. */
  private weightsAtBestLoss(): Float64Array {
    const { logs, top } = this.logsAtBestLoss();
    return logs.map((own, i) => Math.exp(own - top) * this.priorOf(this.curves[i]!));
  }

  /** Prior weight of a curve's half-way point, all losses together. */
  private priorOf(curve: number): number {
    return this.cumulative[(this.grid.curveSlot[curve]! + 1) * (this.losses.count + 1) - 1]!;
  }

  private add(day: DayCount): void {
    const { from, step, count } = this.losses;
    const table = this.tables.of(day.landed, day.tries);
    const x = triesLogits(this.grid, this.curves, day);
    if (!day.inRun) {
      addInterpolatedPoints(table, x, this.log);
      return;
    }
    const apart = Math.round(step / likelihoodTableStep);
    const fine = refineTable(table);
    this.rows ??= new Float64Array(x.length * count);
    for (let i = 0; i < x.length; i++)
      addInterpolated(fine, x[i]! - from, apart, this.rows, i * count, count);
  }

  /** Chance that the landing rate in a run at a level of practice is above the one with log odds `edge`. */
  chanceRunRateAbove(level: number, edge: number): number {
    const { grid, curves, log, rows, prior, cumulative } = this;
    const { from, step, count } = this.losses;
    const x = curveLogits(grid, curves, level);
    const { top } = this.logsAtBestLoss();
    const weights = new Float64Array(x.length);
    let above = 0;
    let total = 0;
    for (let i = 0; i < x.length; i++) {
      const slot = grid.curveSlot[curves[i]!]!;
      // Losses below this place leave the landing rate above the edge; each loss is spread evenly over its step.
      const reach = Math.min(count, Math.max(0, (x[i]! - edge - from) / step + 0.5));
      if (rows === null) {
        const sums = slot * (count + 1);
        const whole = Math.floor(reach);
        const part = whole < count ? (reach - whole) * prior[slot * count + whole]! : 0;
        const scale = Math.exp(log[i]! - top);
        weights[i] = scale * cumulative[sums + count]!;
        above += scale * (cumulative[sums + whole]! + part);
      } else {
        for (let j = 0; j < count; j++) {
          const own = prior[slot * count + j]! * Math.exp(log[i]! - top + rows[i * count + j]!);
          weights[i]! += own;
          if (j < reach) above += own * Math.min(1, reach - j);
        }
      }
      total += weights[i]!;
    }
    this.dropNegligible(weights);
    return total > 0 ? Math.min(1, above / total) : 0;
  }

  private dropNegligible(weights: Float64Array): void {
    const { curves, log, rows } = this;
    const { count } = this.losses;
    const most = weights.reduce((a, b) => Math.max(a, b), 0);
    let kept = 0;
    for (let i = 0; i < curves.length; i++) {
      if (weights[i]! <= negligible * most) continue;
      curves[kept] = curves[i]!;
      log[kept] = log[i]!;
      rows?.copyWithin(kept * count, i * count, (i + 1) * count);
      kept++;
    }
    this.curves = curves.subarray(0, kept);
    this.log = log.subarray(0, kept);
    this.rows = rows && rows.subarray(0, kept * count);
  }
}

function rowMaximum(rows: Float64Array, from: number, width: number): number {
  let most = -Infinity;
  for (let j = from; j < from + width; j++) most = Math.max(most, rows[j]!);
  return most;
}
