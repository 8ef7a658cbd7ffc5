/**
 * What all techniques together say about the runner: the offset from the difficulty scale and the loss under
 * pressure, on a grid that is narrowed until it fits the posterior.
 */
import type { Constants } from '../core/constants.ts';
import type { Evidence, LossGrid } from './evidence.ts';
import { slotPriorsFor } from './curveGrid.ts';
import type { CurveGrid, SlotPriors } from './curveGrid.ts';
import { MemoCache } from '../../incremental/memoCache.ts';
import { weightedQuantile } from '../core/numbers.ts';
import type { Estimate } from '../core/types.ts';

/** Points in offset and pressure, with what each says about a technique. */
export interface RunnerGrid {
  readonly offsets: Float64Array;
  readonly pressures: Float64Array;
  /** For each pressure, the prior of the loss over the loss grid. */
  readonly lossPriors: readonly Float64Array[];
  /** For each difficulty, the prior of the slots at each offset. */
  readonly slotPriors: SlotPriors;
}

/** Posterior of the runner's offset (rows) and pressure (columns). */
export interface RunnerPosterior extends RunnerGrid {
  readonly runnerGrid: RunnerGrid;
  /** Weight of each (offset, pressure); sums to 1. */
  readonly weights: Float64Array;
  /** For each member, in the order given, the likelihood of its counts at each (offset, pressure); null where they do not inform. */
  readonly runnerLikelihoods: readonly (RunnerLikelihood | null)[];
}

/** Likelihood of one technique's counts at each (offset, pressure), and its logarithm. */
export interface RunnerLikelihood {
  readonly plain: Float64Array;
  readonly log: Float64Array;
}

/** One technique's part in the inference. */
export interface TechniqueObservation {
  readonly difficulty: number;
  readonly evidence: Evidence | null;
  /**
   * Whether its counts say anything about the runner; true where not given. What was in the run before the logs
   * began is there because it lands in runs: its run counts alone, so chosen, would make every runner look calm.
   */
  readonly informsRunner?: boolean;
  /** Where its likelihood may be kept. */
  readonly memory?: MemoCache;
}

/** Keeps logs and quotients finite where a grid point cannot explain the counts at all. */
const leastLikelihood = 1e-290;

const nodes = 13;
const passes = 4;
const reach = 4.5;

/** The half width of a grid is the first one narrowed by a power of this. */
const narrowing = 0.8;

/** Prior of one technique's loss in runs over the loss grid, given the runner's pressure. */
export function lossPrior(losses: LossGrid, pressure: number, constants: Constants): Float64Array {
  const weights = new Float64Array(losses.count);
  let total = 0;
  for (let j = 0; j < losses.count; j++) {
    const z = (losses.from + j * losses.step - pressure) / constants.ownPressureSd;
    weights[j] = Math.exp(-0.5 * z * z);
    total += weights[j]!;
  }
  return weights.map((w) => w / total);
}

/**
 * Likelihood of one technique's counts for each (offset, pressure), up to a factor: the evidence summed over
 * half-way points and losses with their priors.
 */
export function runnerLikelihood(
  difficulty: number,
  evidence: Evidence,
  slotPriors: SlotPriors,
  lossPriors: readonly Float64Array[],
): RunnerLikelihood {
  const columns = lossPriors.length;
  const priors = slotPriors(difficulty);
  const out = new Float64Array(priors.length * columns);
  const width = evidence.runs === null ? 1 : (lossPriors[0]?.length ?? 1);
  const alongLoss = new Float64Array(width);
  priors.forEach((prior, row) => {
    alongLoss.fill(0);
    for (const slot of evidence.slots) {
      const weight = prior[slot]!;
      for (let j = 0; j < width; j++) alongLoss[j]! += weight * evidence.bySlot[slot * width + j]!;
    }
    for (let column = 0; column < columns; column++) {
      let sum = alongLoss[0]!;
      if (evidence.runs !== null) {
        const losses = lossPriors[column]!;
        sum = 0;
        for (let j = 0; j < width; j++) sum += losses[j]! * alongLoss[j]!;
      }
      out[row * columns + column] = Math.max(sum, leastLikelihood);
    }
  });
  return { plain: out, log: out.map(Math.log) };
}

function evenly(middle: number, half: number): Float64Array {
  return Float64Array.from({ length: nodes }, (_, i) => middle + (half * (2 * i - nodes + 1)) / (nodes - 1));
}

/** Log weights to shares: exponentials with the greatest taken out, summing to 1. */
function toShares(logs: Float64Array): Float64Array {
  let top = -Infinity;
  for (const value of logs) top = Math.max(top, value);
  let total = 0;
  const shares = logs.map((value) => {
    const share = Math.exp(value - top);
    total += share;
    return share;
  });
  return shares.map((share) => share / total);
}

/** Weights of the rows (offsets) or columns (pressures) alone. */
export function marginalWeights(posterior: RunnerPosterior, of: 'offset' | 'pressure'): Float64Array {
  const columns = posterior.pressures.length;
  const sums = new Float64Array(of === 'offset' ? posterior.offsets.length : columns);
  posterior.weights.forEach((weight, i) => {
    const at = of === 'offset' ? Math.floor(i / columns) : i % columns;
    sums[at]! += weight;
  });
  return sums;
}

function momentsOf(points: Float64Array, weights: Float64Array): { mean: number; sd: number } {
  let mean = 0;
  for (let i = 0; i < points.length; i++) mean += points[i]! * weights[i]!;
  let variance = 0;
  for (let i = 0; i < points.length; i++) variance += weights[i]! * (points[i]! - mean) ** 2;
  return { mean, sd: Math.sqrt(variance) };
}

/** Middle and half width of a grid in one direction. */
interface GridInterval {
  readonly middle: number;
  readonly half: number;
}

/**
 * The stretch that covers a distribution, out of a fixed set of them: a little more data then asks for the same one,
 * and what was worked out on it still holds. Never narrower than one and a half steps of the grid on which the
 * moments were seen: they are no better than that.
 */
function covering(first: GridInterval, last: GridInterval, mean: number, sd: number): GridInterval {
  const wanted = Math.min(last.half, Math.max(reach * sd, (3 * last.half) / (nodes - 1)));
  const half =
    first.half * narrowing ** Math.floor(Math.log(wanted / first.half) / Math.log(narrowing) + 1e-9);
  const step = (2 * half) / (nodes - 1);
  return { half, middle: first.middle + Math.round((mean - first.middle) / step) * step };
}

function buildRunnerGrid(
  offset: GridInterval,
  pressure: GridInterval,
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
): RunnerGrid {
  const offsets = evenly(offset.middle, offset.half);
  const pressures = evenly(pressure.middle, pressure.half);
  return {
    offsets,
    pressures,
    lossPriors: Array.from(pressures, (k) => lossPrior(losses, k, constants)),
    slotPriors: slotPriorsFor(grid, offsets, constants),
  };
}

/** Weighting of the runner's offset and pressure by all techniques' evidence. `memory` may keep the grids. */
export function inferRunner(
  members: readonly TechniqueObservation[],
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
  memory = new MemoCache(),
): RunnerPosterior {
  const { offsetSd, pressureMean, pressureSd } = constants;
  const first = {
    offset: { middle: 0, half: reach * offsetSd },
    pressure: { middle: pressureMean, half: reach * pressureSd },
  };
  let { offset, pressure } = first;
  for (let pass = 1; ; pass++) {
    const on = [offset.middle, offset.half, pressure.middle, pressure.half];
    const runnerGrid = memory.getOrCompute(`runner grid ${pass}`, [grid, losses, constants, ...on], () =>
      buildRunnerGrid(offset, pressure, grid, losses, constants),
    );
    const { offsets, pressures, lossPriors, slotPriors } = runnerGrid;
    const logs = new Float64Array(nodes * nodes);
    for (let i = 0; i < logs.length; i++) {
      const u = offsets[Math.floor(i / nodes)]! / offsetSd;
      const k = (pressures[i % nodes]! - pressureMean) / pressureSd;
      logs[i] = -0.5 * (u * u + k * k);
    }
    const memberLikelihoods = members.map(
      ({ difficulty, evidence, informsRunner: informs = true, memory: memo }) => {
        if (evidence === null || !informs) return null;
        const work = (): RunnerLikelihood => runnerLikelihood(difficulty, evidence, slotPriors, lossPriors);
        return memo?.getOrCompute(`likelihood ${pass}`, [difficulty, evidence, runnerGrid], work) ?? work();
      },
    );
    // By place, not by member, so that the sum is in one order whatever is remembered.
    for (const likelihood of memberLikelihoods) {
      if (likelihood === null) continue;
      for (let i = 0; i < logs.length; i++) logs[i]! += likelihood.log[i]!;
    }
    const posterior = {
      ...runnerGrid,
      runnerGrid,
      weights: toShares(logs),
      runnerLikelihoods: memberLikelihoods,
    };
    const u = momentsOf(offsets, marginalWeights(posterior, 'offset'));
    const k = momentsOf(pressures, marginalWeights(posterior, 'pressure'));
    const next = {
      offset: covering(first.offset, offset, u.mean, u.sd),
      pressure: covering(first.pressure, pressure, k.mean, k.sd),
    };
    const settled = next.offset.half === offset.half && next.pressure.half === pressure.half;
    if (settled || pass === passes) return posterior;
    ({ offset, pressure } = next);
  }
}

/** Finer points between grid points, for quantiles. */
const finer = 16;

/** A bell on a few even points drawn out to many: log weights follow a parabola through the three nearest. */
function interpolateDensity(
  points: Float64Array,
  weights: Float64Array,
): { points: Float64Array; weights: Float64Array } {
  const logs = weights.map((weight) => Math.log(Math.max(weight, 1e-300)));
  const count = (points.length - 1) * finer + 1;
  const step = (points[1]! - points[0]!) / finer;
  const out = { points: new Float64Array(count), weights: new Float64Array(count) };
  for (let i = 0; i < count; i++) {
    const middle = Math.min(points.length - 2, Math.max(1, Math.round(i / finer)));
    const t = i / finer - middle;
    const [a, b, c] = [logs[middle - 1]!, logs[middle]!, logs[middle + 1]!];
    out.points[i] = points[0]! + i * step;
    out.weights[i] = Math.exp(b + (t * (c - a)) / 2 + (t * t * (a + c - 2 * b)) / 2);
  }
  return out;
}

/** Mean, 10 and 90 % points of the offset or the pressure. */
export function runnerEstimate(posterior: RunnerPosterior, of: 'offset' | 'pressure'): Estimate {
  const points = of === 'offset' ? posterior.offsets : posterior.pressures;
  const weights = marginalWeights(posterior, of);
  const fine = interpolateDensity(points, weights);
  return {
    mean: momentsOf(points, weights).mean,
    low: weightedQuantile(fine.points, fine.weights, 0.1),
    high: weightedQuantile(fine.points, fine.weights, 0.9),
  };
}
