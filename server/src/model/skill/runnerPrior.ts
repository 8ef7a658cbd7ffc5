/** The prior for one technique's inference: what all other techniques say about the runner. */
import type { Constants } from '../core/constants.ts';
import type { LossGrid } from './evidence.ts';
import { shares } from './learnerKinds.ts';
import { minPriorDensity } from './curveGrid.ts';
import { midwayMean, midwaySdOf } from './slotPrior.ts';
import type { Rated } from '../core/rated.ts';
import type { CurveGrid } from './curveGrid.ts';
import { clamp } from '../core/numbers.ts';
import type { RunnerLikelihood, RunnerPosterior } from './runnerPosterior.ts';

/** The runner's offset and pressure as a joint normal distribution, in logits. */
export interface RunnerPrior {
  readonly offset: { readonly mean: number; readonly sd: number };
  readonly pressure: { readonly mean: number; readonly sd: number };
  readonly correlation: number;
  /** Share of each kind of learner. */
  readonly learners: readonly number[];
}

/**
 * The moments of a runner prior are rounded to this step. It is much smaller than the differences between
 * techniques of one difficulty, and large enough that most new blocks of practice do not change the priors of other
 * techniques at all, so their results can be reused.
 */
const step = 1 / 24;
const correlationStep = 1 / 8;

/** The shares of the kinds of learner are rounded to this step, too, and none is less than the least. */
const learnerStep = 1 / 8;
const leastLearner = 1 / 64;

/** Rounds in steps counted from the prior value, so that the prior itself stays exact if nothing was logged. */
function rounded(value: number, prior: number, to = step): number {
  return prior + Math.round((value - prior) / to) * to;
}

/**
 * The runner as inferred from all techniques except one: the posterior of (offset, pressure) divided by that
 * technique's own likelihood, as a normal distribution with the same moments. Exact if nothing was counted, because
 * the prior is normal.
 *
 * @param own the technique's likelihood at each (offset, pressure); null if it is not used to infer the runner
 */
export function leaveOneOutPrior(
  runner: RunnerPosterior,
  own: RunnerLikelihood | null,
  constants: Constants,
): RunnerPrior {
  const { offsets, pressures, joint } = runner;
  const columns = pressures.length;
  let total = 0;
  const sum = { u: 0, k: 0, uu: 0, kk: 0, uk: 0 };
  const cells = offsets.length * columns;
  const learners = new Float64Array(joint.length / cells);
  for (let i = 0; i < joint.length; i++) {
    const weight = own === null ? joint[i]! : joint[i]! / own.plain[i]!;
    const u = offsets[Math.floor((i % cells) / columns)]!;
    const k = pressures[i % columns]!;
    total += weight;
    learners[Math.floor(i / cells)]! += weight;
    sum.u += weight * u;
    sum.k += weight * k;
    sum.uu += weight * u * u;
    sum.kk += weight * k * k;
    sum.uk += weight * u * k;
  }
  const mean = { u: sum.u / total, k: sum.k / total };
  const sd = {
    u: Math.sqrt(Math.max(0, sum.uu / total - mean.u * mean.u)),
    k: Math.sqrt(Math.max(0, sum.kk / total - mean.k * mean.k)),
  };
  const product = sd.u * sd.k;
  const correlation = product > 0 ? (sum.uk / total - mean.u * mean.k) / product : 0;
  const { offsetSd, pressureMean, pressureSd } = constants;
  return {
    offset: { mean: rounded(mean.u, 0), sd: Math.max(1e-3, rounded(sd.u, offsetSd)) },
    pressure: { mean: rounded(mean.k, pressureMean), sd: Math.max(1e-3, rounded(sd.k, pressureSd)) },
    correlation: clamp(rounded(correlation, 0, correlationStep), -1 + correlationStep, 1 - correlationStep),
    learners: shares(
      Array.from(learners, (share) =>
        Math.max(leastLearner, Math.round(share / total / learnerStep) * learnerStep),
      ),
    ),
  };
}

/** A runner prior as text: equal priors have equal texts. */
export function runnerPriorKey({ offset, pressure, correlation }: RunnerPrior): string {
  return [offset.mean, offset.sd, pressure.mean, pressure.sd, correlation].join(' ');
}

/**
 * Prior of a technique's half-way point and loss in runs, one row over the loss grid for each slot: a joint normal
 * distribution with the runner's offset and pressure integrated out. Sums to 1 within each layout of the half-way
 * points.
 */
export function skillPrior(
  rated: Rated,
  runnerPrior: RunnerPrior,
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
): Float64Array {
  const width = losses.count;
  const prior = new Float64Array(grid.slots * width);
  const midway = {
    mean: midwayMean(rated, runnerPrior.offset.mean, constants),
    sd: Math.hypot(midwaySdOf(rated, constants), runnerPrior.offset.sd),
  };
  const loss = {
    mean: runnerPrior.pressure.mean + (rated.others?.loss.mean ?? 0),
    sd: Math.hypot(rated.others?.loss.sd ?? constants.ownPressureSd, runnerPrior.pressure.sd),
  };
  // A greater offset means an earlier half-way point, so the sign is negative.
  const shared = -runnerPrior.correlation * runnerPrior.offset.sd * runnerPrior.pressure.sd;
  const correlation = shared / (midway.sd * loss.sd);
  const spread = loss.sd * Math.sqrt(1 - correlation * correlation);
  for (let slot = 0, at = 0; slot < grid.slots; slot++) {
    const z = (grid.slotMidway[slot]! - midway.mean) / midway.sd;
    const density = Math.max(minPriorDensity, Math.exp(-0.5 * z * z));
    const expected = loss.mean + correlation * loss.sd * z;
    for (let j = 0; j < width; j++, at++) {
      const y = (losses.from + j * losses.step - expected) / spread;
      prior[at] = density * Math.exp(-0.5 * y * y);
    }
  }
  for (let from = 0; from < grid.slots; from = grid.slotTo[from]!) {
    const layout = prior.subarray(from * width, grid.slotTo[from]! * width);
    const total = layout.reduce((a, b) => a + b, 0);
    if (total > 0) for (let i = 0; i < layout.length; i++) layout[i]! /= total;
  }
  return prior;
}
