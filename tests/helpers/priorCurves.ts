/**
 * Learning curves drawn from the model's prior, by formulas written here: the kind of learner is the runner's, the rest the
 * technique's own.
 */
import { defaultConstants as usual } from '../../server/src/model/core/constants.ts';
import { learnerKinds } from '../../server/src/model/skill/learnerKinds.ts';
import type { LearnerKind } from '../../server/src/model/skill/learnerKinds.ts';

/** A number in [0, 1). */
type Next = () => number;

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));

/** A value drawn with probabilities in proportion to the weights. */
export function pick<T>(values: readonly T[], weights: readonly number[], next: Next): T {
  let left = next() * weights.reduce((a, b) => a + b, 0);
  return values.find((_, i) => (left -= weights[i]!) < 0) ?? values.at(-1)!;
}

/** A value in a band between neighbouring edges; the first edge is a band of its own. */
function pickInBand(edges: readonly number[], weights: readonly number[], next: Next) {
  const band = pick([...edges.keys()], weights, next);
  const [a, b] = [edges[Math.max(0, band - 1)]!, edges[band]!];
  return { band, value: a + (b - a) * next() };
}

/** Draws the kind of a runner. */
export function drawLearner(next: Next): LearnerKind {
  const kinds = learnerKinds(usual);
  return pick(
    kinds,
    kinds.map(({ share }) => share),
    next,
  );
}

/** Landing rate in practice at a level of practice that is `x` past half-way. */
export type PriorCurve = (x: number) => number;

export interface DrawnCurve {
  readonly ceiling: number;
  /** Numbers of its suddenness and of its bands of ceiling and floor. */
  readonly numbers: { readonly suddenness: number; readonly ceiling: number; readonly floor: number };
  readonly rateAt: PriorCurve;
}

/** Draws suddenness, ceiling and floor of a technique; those in the run before the logs began have no floor. */
export function drawCurve(kind: LearnerKind, next: Next, headStart = false): DrawnCurve {
  const all = [...usual.steepness, 'exponential' as const];
  const suddenness = pick([...all.keys()], kind.steepness, next);
  const steepness = all[suddenness]!;
  const { band: ceilingBand, value: ceiling } = pickInBand(usual.ceilings, kind.ceilings, next);
  const drawn = pickInBand(usual.floors, kind.floors, next);
  const floor = headStart ? 0 : drawn.value;
  const learned = (x: number): number =>
    steepness === 'exponential' ? 1 - 2 ** -Math.exp(x) : logistic(steepness * x);
  return {
    ceiling,
    numbers: { suddenness, ceiling: ceilingBand, floor: drawn.band },
    rateAt: (x) => floor + (ceiling - floor) * learned(x),
  };
}

/** Concentration of the beta distribution of a day's rate around `mean`. */
export function dayConcentration(mean: number): number {
  return usual.concentration / (4 * mean * (1 - mean));
}
