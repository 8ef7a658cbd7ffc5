/**
 * The posterior of the runner's own parameters from the counts of all techniques: the offset from the difficulty
 * scale and the loss under pressure, on a grid that is narrowed until it fits the posterior.
 */
import type { Constants } from '../core/constants.ts';
import type { Evidence, LossGrid } from './evidence.ts';
import { slotPriorsFor } from './slotPrior.ts';
import type { CurveGrid } from './curveGrid.ts';
import type { SlotPriors } from './slotPrior.ts';
import { ratingKey } from '../core/rated.ts';
import type { Rated } from '../core/rated.ts';
import { inOneGo, mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { MemoCache } from '../../incremental/memoCache.ts';
import { weightedQuantile } from '../core/numbers.ts';
import type { Estimate } from '../core/types.ts';

/** Grid points in offset and pressure, with the priors of a technique at each of them. */
export interface RunnerGrid {
  readonly offsets: Float64Array;
  readonly pressures: Float64Array;
  /** For each technique, the prior of its loss over the loss grid at each pressure. */
  readonly lossPriors: LossPriors;
  /** For each technique, the prior of the slots at each offset. */
  readonly slotPriors: SlotPriors;
}

/** Posterior of the runner's offset (rows) and pressure (columns). */
export interface RunnerPosterior extends RunnerGrid {
  readonly runnerGrid: RunnerGrid;
  /** Weight of each (offset, pressure); sums to 1. */
  readonly weights: Float64Array;
  /** Weight of each kind of learner (outermost) at each (offset, pressure); sums to 1. */
  readonly joint: Float64Array;
  /**
   * For each technique, in the given order, the likelihood of its counts at each (offset, pressure); null if its
   * counts are not used.
   */
  readonly runnerLikelihoods: readonly (RunnerLikelihood | null)[];
}

/** Likelihood of one technique's counts at each (offset, pressure), and its logarithm. */
export interface RunnerLikelihood {
  readonly plain: Float64Array;
  readonly log: Float64Array;
}

/** What the inference uses of one technique. */
export interface TechniqueObservation extends Rated {
  readonly evidence: Evidence | null;
  /**
   * Whether its counts are used to infer the runner; true if omitted. A technique that was in the run before the
   * logs began is there because it lands in runs. If only its run counts were used, this selection would make every
   * runner seem to lose little under pressure.
   */
  readonly informsRunner?: boolean;
  /** A cache for its likelihood. */
  readonly memory?: MemoCache;
}

/** Smallest likelihood, so that logarithms and quotients stay finite at grid points that cannot explain the counts. */
const leastLikelihood = 1e-290;

const nodes = 13;
const passes = 4;
const reach = 4.5;

/** The half width of a grid is the half width of the first grid times a power of this. */
const narrowing = 0.8;

/** The {@link lossPrior} of a technique for each of several pressures. */
export type LossPriors = (rated: Rated) => readonly Float64Array[];

/** A function that gives the prior of the loss at each pressure. It computes them once for techniques rated alike. */
function lossPriorsFor(losses: LossGrid, pressures: Float64Array, { ownPressureSd }: Constants): LossPriors {
  const cached = new Map<string, readonly Float64Array[]>();
  return ({ others }) => {
    const { mean, sd } = others?.loss ?? { mean: 0, sd: ownPressureSd };
    const key = `${mean} ${sd}`;
    const priors =
      cached.get(key) ?? Array.from(pressures, (pressure) => lossPrior(losses, pressure + mean, sd));
    cached.set(key, priors);
    return priors;
  };
}

/** Prior of one technique's loss in runs over the loss grid: a normal density. */
export function lossPrior(losses: LossGrid, mean: number, sd: number): Float64Array {
  const weights = new Float64Array(losses.count);
  let total = 0;
  for (let j = 0; j < losses.count; j++) {
    const z = (losses.from + j * losses.step - mean) / sd;
    weights[j] = Math.exp(-0.5 * z * z);
    total += weights[j]!;
  }
  return weights.map((w) => w / total);
}

/**
 * Likelihood of one technique's counts for each (offset, pressure), up to a factor: the sum of evidence × prior
 * over half-way points and losses.
 *
 * @param priors of the slots at each offset
 * @param lossPriors at each pressure
 */
export function runnerLikelihood(
  evidence: Evidence,
  priors: readonly Float64Array[],
  lossPriors: readonly Float64Array[],
): RunnerLikelihood {
  const columns = lossPriors.length;
  const cells = priors.length * columns;
  const out = new Float64Array(cells * evidence.bySlot.length);
  const width = evidence.runs === null ? 1 : (lossPriors[0]?.length ?? 1);
  const alongLoss = new Float64Array(width);
  evidence.bySlot.forEach((bySlot, kind) => {
    priors.forEach((prior, row) => {
      alongLoss.fill(0);
      for (const slot of evidence.slots) {
        const weight = prior[slot]!;
        for (let j = 0; j < width; j++) alongLoss[j]! += weight * bySlot[slot * width + j]!;
      }
      for (let column = 0; column < columns; column++) {
        let sum = alongLoss[0]!;
        if (evidence.runs !== null) {
          const losses = lossPriors[column]!;
          sum = 0;
          for (let j = 0; j < width; j++) sum += losses[j]! * alongLoss[j]!;
        }
        out[kind * cells + row * columns + column] = Math.max(sum, leastLikelihood);
      }
    });
  });
  return { plain: out, log: out.map(Math.log) };
}

function evenly(middle: number, half: number): Float64Array {
  return Float64Array.from({ length: nodes }, (_, i) => middle + (half * (2 * i - nodes + 1)) / (nodes - 1));
}

/** Turns log weights into weights that sum to 1. */
export function toShares(logs: Float64Array): Float64Array {
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

/** The marginal weights of the offsets (rows) or of the pressures (columns). */
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
 * The interval, chosen from a fixed set, that covers a distribution. With a little more data the choice is usually
 * the same, so values computed on that grid can be reused. The half width is at least one and a half steps of the
 * grid on which the moments were computed, because they are not more precise than that.
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
    lossPriors: lossPriorsFor(losses, pressures, constants),
    slotPriors: slotPriorsFor(grid, offsets, constants),
  };
}

/** The intervals of the first grid, before any counts narrow it. */
function firstIntervals({ offsetSd, pressureMean, pressureSd }: Constants) {
  return {
    offset: { middle: 0, half: reach * offsetSd },
    pressure: { middle: pressureMean, half: reach * pressureSd },
  };
}

/** The likelihoods of all techniques on a grid. */
interface Pass {
  readonly runnerGrid: RunnerGrid;
  readonly likelihoods: readonly (RunnerLikelihood | null)[];
}

function* passOver(
  { offset, pressure }: { readonly offset: GridInterval; readonly pressure: GridInterval },
  name: string,
  members: readonly TechniqueObservation[],
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
  memory: MemoCache,
): Steps<Pass> {
  const on = [offset.middle, offset.half, pressure.middle, pressure.half];
  const runnerGrid = memory.getOrCompute(`runner grid ${name}`, [grid, losses, constants, ...on], () =>
    buildRunnerGrid(offset, pressure, grid, losses, constants),
  );
  const { lossPriors, slotPriors } = runnerGrid;
  const likelihoods = yield* mapInSteps(members, (member) => {
    const { evidence, informsRunner: informs = true, memory: memo } = member;
    if (evidence === null || !informs) return null;
    const work = (): RunnerLikelihood => runnerLikelihood(evidence, slotPriors(member), lossPriors(member));
    const on = [ratingKey(member), evidence, runnerGrid];
    return memo?.getOrCompute(`likelihood ${name}`, on, work) ?? work();
  });
  return { runnerGrid, likelihoods };
}

/** The likelihoods of all techniques on the first grid, and its prior weights as logarithms. */
export interface FirstPass extends Pass {
  readonly logPrior: Float64Array;
}

/** Whose scale of difficulties and loss in runs a pass has: what is kept of the one does not push out what is kept of the other. */
export type Scaled = 'usual' | 'own';

/** Compares all techniques on the first grid, at the usual scale. */
export function* firstPassInSteps(
  members: readonly TechniqueObservation[],
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
  memory: MemoCache,
): Steps<FirstPass> {
  const intervals = firstIntervals(constants);
  const pass = yield* passOver(intervals, 'usual 1', members, grid, losses, constants, memory);
  return { ...pass, logPrior: logPriorOf(pass.runnerGrid, grid, constants) };
}

/** Logarithm of the prior of each kind of learner (outermost) at each (offset, pressure), up to a constant. */
function logPriorOf(
  { offsets, pressures }: RunnerGrid,
  { learnerShares }: CurveGrid,
  { offsetSd, pressureMean, pressureSd }: Constants,
): Float64Array {
  const cells = nodes * nodes;
  const logs = new Float64Array(cells * learnerShares.length);
  for (let i = 0; i < logs.length; i++) {
    const u = offsets[Math.floor((i % cells) / nodes)]! / offsetSd;
    const k = (pressures[i % nodes]! - pressureMean) / pressureSd;
    logs[i] = Math.log(learnerShares[Math.floor(i / cells)]!) - 0.5 * (u * u + k * k);
  }
  return logs;
}

/**
 * Infers the runner's offset and pressure from the evidence of all techniques.
 *
 * @param memory caches the grids
 * @param scaled whose scale the constants have
 */
export const inferRunner = inOneGo(inferRunnerInSteps);

/** The same in steps. */
export function* inferRunnerInSteps(
  members: readonly TechniqueObservation[],
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
  memory = new MemoCache(),
  scaled: Scaled = 'usual',
): Steps<RunnerPosterior> {
  const first = firstIntervals(constants);
  let { offset, pressure } = first;
  for (let pass = 1; ; pass++) {
    const { runnerGrid, likelihoods } = yield* passOver(
      { offset, pressure },
      `${scaled} ${pass}`,
      members,
      grid,
      losses,
      constants,
      memory,
    );
    const logs = logPriorOf(runnerGrid, grid, constants);
    // Added in the order of the techniques, so that rounding is the same with and without cached values.
    for (const likelihood of likelihoods) {
      if (likelihood === null) continue;
      for (let i = 0; i < logs.length; i++) logs[i]! += likelihood.log[i]!;
    }
    const joint = toShares(logs);
    const weights = new Float64Array(nodes * nodes);
    joint.forEach((weight, i) => {
      weights[i % weights.length]! += weight;
    });
    const posterior = { ...runnerGrid, runnerGrid, weights, joint, runnerLikelihoods: likelihoods };
    const u = momentsOf(runnerGrid.offsets, marginalWeights(posterior, 'offset'));
    const k = momentsOf(runnerGrid.pressures, marginalWeights(posterior, 'pressure'));
    const next = {
      offset: covering(first.offset, offset, u.mean, u.sd),
      pressure: covering(first.pressure, pressure, k.mean, k.sd),
    };
    const settled = next.offset.half === offset.half && next.pressure.half === pressure.half;
    if (settled || pass === passes) return posterior;
    ({ offset, pressure } = next);
  }
}

/** Number of finer points for each grid step, for quantiles. */
const finer = 16;

/**
 * Interpolates a bell-shaped density from a few evenly spaced points to many: log weights follow a parabola through
 * the three nearest points.
 */
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

/** Mean, 10 % and 90 % quantiles of the offset or the pressure. */
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
