/**
 * Kinds of learner: how suddenly techniques come to a runner, how far, and how often they land by luck before that.
 *
 * The kind is the runner's own, so that what was practised says how the rest will go. Each kind has weights of its own for the
 * suddenness, the ceiling and the floor of a technique: those of the constants times the factors below.
 */
import type { Constants } from '../core/constants.ts';
import type { ShapeFactors } from '../core/rated.ts';

/**
 * Weights of the suddenness (the exponential last) and of the bands of ceiling and floor; each list sums to 1.
 */
export interface LearnerKind {
  /** Share of runners who are of this kind. */
  readonly share: number;
  readonly steepness: readonly number[];
  readonly ceilings: readonly number[];
  readonly floors: readonly number[];
}

/**
 * Factors on the weights of the constants: the suddenness with the exponential last, the bands from the first edge on. Rows: any
 * curve; gradual and levelling off early; stuck for long and then suddenly able. Chosen.
 */
const factors = [
  {
    share: 0.34,
    steepness: [1, 1, 1, 1, 1, 1],
    ceilings: [1, 1, 1, 1],
    floors: [1, 1, 1, 1],
  },
  {
    share: 0.33,
    steepness: [0.5, 1, 0.8, 0.1, 0.02, 4],
    ceilings: [0.15, 0.8, 1.4, 1.6],
    floors: [0.6, 0.8, 1.2, 2],
  },
  {
    share: 0.33,
    steepness: [0.05, 0.05, 1, 2, 3, 0.15],
    ceilings: [0.3, 1, 1.4, 1.2],
    floors: [0.5, 1.6, 1.4, 0.3],
  },
] as const;

/** Weights made to sum to 1; all alike where none is above 0. */
export function shares(weights: readonly number[]): number[] {
  const safe = weights.map((w) => Math.max(0, w));
  const total = safe.reduce((a, b) => a + b, 0);
  return safe.map((w) => (total > 0 ? w / total : 1 / safe.length));
}

/** The same kind for a technique whose curves have more or less weight than usual. */
export function withShape(
  { share, steepness, ceilings, floors }: LearnerKind,
  by: ShapeFactors,
): LearnerKind {
  const times = (weights: readonly number[], factors: readonly number[]): number[] =>
    shares(weights.map((weight, i) => weight * (factors[i] ?? 1)));
  return {
    share,
    steepness: times(steepness, by.suddenness),
    ceilings: times(ceilings, by.ceiling),
    floors: times(floors, by.floor),
  };
}

/** The kinds of learner with their weights. */
export function learnerKinds(constants: Constants): LearnerKind[] {
  const times = (weights: readonly number[], by: readonly number[]): number[] =>
    shares(weights.map((weight, i) => weight * (by[i] ?? 1)));
  return factors.map(({ share, steepness, ceilings, floors }) => ({
    share,
    steepness: times([...constants.steepnessWeights, constants.exponentialWeight], steepness),
    ceilings: times(constants.ceilingWeights, ceilings),
    floors: times(constants.floorWeights, floors),
  }));
}
