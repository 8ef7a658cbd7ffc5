/** What is known of a technique before its runner practised it: its difficulty, and what other runners' practice showed. */

/** A technique as it is rated. */
export interface Rated {
  /** 1 (easy) to 10. */
  readonly difficulty: number;
  /** What other runners' practice says beyond the difficulty; undefined where nobody else's is known. */
  readonly others?: OthersWord | undefined;
}

/** What other runners' practice says of a technique, for a runner of whom nothing is known. */
export interface OthersWord {
  /** How many runners it is from. */
  readonly runners: number;
  /** How much later than rated the half-way point comes, in ln(1 + E/unit): the mean, and how far runners and the mean itself are off it. */
  readonly midway: Deviation;
  /** How well the mean itself is known: the standard deviation of what all runners have in common, in the same unit. */
  readonly commonSd: number;
  /** How much more is lost in a run than the runner loses on average, in logits. */
  readonly loss: Deviation;
  /** How much more or less weight its curves have than the prior gives them. */
  readonly shape: ShapeFactors;
}

/** Factors on the prior weights of the suddenness (the exponential last) and of the bands of ceiling and floor. */
export interface ShapeFactors {
  readonly suddenness: readonly number[];
  readonly ceiling: readonly number[];
  readonly floor: readonly number[];
}

/** A mean and a standard deviation. */
export interface Deviation {
  readonly mean: number;
  readonly sd: number;
}

/** A rating as text: equal texts give equal priors. */
export function ratingKey({ difficulty, others }: Rated): string {
  if (others === undefined) return String(difficulty);
  const { midway, loss, shape } = others;
  return [difficulty, midway.mean, midway.sd, loss.mean, loss.sd, shapeKey(shape)].join('/');
}

/** Factors as text: equal texts give equal weights. */
export function shapeKey({ suddenness, ceiling, floor }: ShapeFactors): string {
  return [...suddenness, ...ceiling, ...floor].join(' ');
}
