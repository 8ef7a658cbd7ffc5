/**
 * The grid of learning curves: every combination of half-way point, steepness, and band of ceiling and floor.
 *
 * A curve is numbered pair · shapes + shape, where a pair is (steepness, half-way point) and a shape is a band of
 * ceilings, a band of floors and a head start. Where in its bands a curve lies differs from pair to pair
 * (`curveShapes.ts`). A pair sits in a slot: the half-way points are laid out once in steps of `midwayStep` and once in half
 * that step, and steep curves use the finer of the two, because a step changes their rate more.
 *
 * A technique that was in the run before the logs began has an unknown amount of earlier practice. Its grid has a
 * further dimension, the head start: practice before the first entry, which is added to the logged practice.
 */
import type { Constants } from '../core/constants.ts';
import { clamp, finiteOr } from '../core/numbers.ts';
import { curveShapes, placeIn, stride } from './curveShapes.ts';
import { learnerKinds } from './learnerKinds.ts';

export interface CurveGrid {
  readonly curves: number;
  readonly pairs: number;
  readonly shapes: number;
  readonly slots: number;
  /** For each slot: its half-way point, the first slot of its layout, and the first slot of the next layout. */
  readonly slotMidway: Float64Array;
  readonly slotFrom: Int32Array;
  readonly slotTo: Int32Array;
  readonly pairSlot: Int32Array;
  /** {@link exponential} for curves that are no logistic curves. */
  readonly pairSteepness: Float64Array;
  /**
   * Number of shapes with the same head start (they have consecutive numbers), and e^(head start) for each head
   * start (1 if there is none).
   */
  readonly shapesPerHeadStart: number;
  readonly headStartFactors: Float64Array;
  /** Number of bands of the floor; shapes in the same band of the ceiling have consecutive numbers. */
  readonly bandsOfFloor: number;
  readonly curveSlot: Int32Array;
  /** Prior weight of steepness, ceiling and floor together, and its logarithm. */
  readonly curveWeight: Float64Array;
  readonly curveLogWeight: Float64Array;
  /** The weights for each kind of learner; `curveWeight` is their mean with the shares of the kinds. */
  readonly learnerWeights: readonly Float64Array[];
  readonly learnerShares: readonly number[];
  readonly curveCeiling: Float64Array;
  readonly curveFloor: Float64Array;
  readonly rateFloor: number;
}

/** Smallest prior density of a half-way point, so that enough counts can make even a very unexpected one likely. */
export const minPriorDensity = 1e-60;

/** Curves of at least this steepness use the finer layout. */
const steep = 1.6;

/**
 * In place of a steepness: the curve on which each attempt closes the same share of the gap to the ceiling, an exponential of
 * practice. Its slope half-way is that of steepness 1.4.
 */
export const exponential = 0;

/** How much of the way from floor to ceiling is done at a level of practice that is `x` past half-way. */
function learnedShare(steepness: number, x: number): number {
  return steepness === exponential
    ? -Math.expm1(-Math.LN2 * Math.exp(x))
    : 1 / (1 + Math.exp(-steepness * x));
}

/** Log odds of {@link learnedShare}, which are finite. */
function learnedLogit(steepness: number, x: number): number {
  if (steepness !== exponential) return steepness * x;
  return Math.log(Math.expm1(Math.min(700, Math.LN2 * Math.exp(x))));
}

/** The mean of the weights for the kinds of learner, each with its share. */
function meanWeights(
  learnerWeights: readonly Float64Array[],
  learnerShares: readonly number[],
): Pick<CurveGrid, 'curveWeight' | 'curveLogWeight' | 'learnerWeights' | 'learnerShares'> {
  const curveWeight = new Float64Array(learnerWeights[0]?.length ?? 0);
  learnerWeights.forEach((weights, kind) => {
    const share = learnerShares[kind]!;
    for (let curve = 0; curve < weights.length; curve++) curveWeight[curve]! += share * weights[curve]!;
  });
  return { curveWeight, curveLogWeight: curveWeight.map(Math.log), learnerWeights, learnerShares };
}

/** The same curves, weighed for a runner who is of each kind of learner with the given shares. */
export function weighedFor(grid: CurveGrid, learnerShares: readonly number[]): CurveGrid {
  return { ...grid, ...meanWeights(grid.learnerWeights, learnerShares) };
}

/** Lays out the grid for the given constants, for techniques new to the logs or for those with a head start. */
export function curveGrid(constants: Constants, headStart = false): CurveGrid {
  const span = constants.midwayHigh - constants.midwayLow;
  const layouts = [1, 2].map((finer) => Math.round((span * finer) / constants.midwayStep) + 1);
  const slots = layouts.reduce((a, b) => a + b, 0);
  const slotMidway = new Float64Array(slots);
  const slotFrom = new Int32Array(slots);
  const slotTo = new Int32Array(slots);
  let from = 0;
  for (const count of layouts) {
    for (let i = 0; i < count; i++) {
      slotMidway[from + i] = constants.midwayLow + (span * i) / (count - 1);
      slotFrom[from + i] = from;
      slotTo[from + i] = from + count;
    }
    from += count;
  }

  const shapes = curveShapes(constants, headStart);
  const starts = headStart ? constants.headStarts : [0];
  const pairSlot: number[] = [];
  const pairSteepness: number[] = [];
  const curveSlot: number[] = [];
  const curveCeiling: number[] = [];
  const curveFloor: number[] = [];
  const learners = learnerKinds(constants);
  const learnerWeights = learners.map((): number[] => []);
  const coarse = layouts[0] ?? 0;
  [...constants.steepness, exponential].forEach((steepness, i) => {
    const first = steepness < steep ? 0 : coarse;
    const last = steepness < steep ? coarse : slots;
    for (let slot = first; slot < last; slot++) {
      const pair = pairSlot.length;
      pairSlot.push(slot);
      pairSteepness.push(finiteOr(steepness, 1));
      shapes.forEach(({ ceiling, floor, weight, bandOfCeiling, bandOfFloor }, shape) => {
        curveSlot.push(slot);
        learners.forEach((learner, kind) => {
          learnerWeights[kind]!.push(
            (learner.steepness[i] ?? 0) *
              (learner.ceilings[bandOfCeiling] ?? 0) *
              (headStart ? 1 : (learner.floors[bandOfFloor] ?? 0)) *
              weight,
          );
        });
        curveCeiling.push(placeIn(ceiling, pair * stride.ceiling, shape - bandOfCeiling));
        curveFloor.push(placeIn(floor, pair * stride.floor, bandOfCeiling));
      });
    }
  });
  return {
    curves: curveSlot.length,
    pairs: pairSlot.length,
    shapes: shapes.length,
    slots,
    slotMidway,
    slotFrom,
    slotTo,
    pairSlot: Int32Array.from(pairSlot),
    pairSteepness: Float64Array.from(pairSteepness),
    shapesPerHeadStart: shapes.length / starts.length,
    bandsOfFloor: headStart ? 1 : constants.floors.length,
    headStartFactors: Float64Array.from(starts, (start) => Math.exp(clamp(start, 0, 30))),
    curveSlot: Int32Array.from(curveSlot),
    ...meanWeights(
      learnerWeights.map((weights) => Float64Array.from(weights)),
      learners.map(({ share }) => share),
    ),
    curveCeiling: Float64Array.from(curveCeiling),
    curveFloor: Float64Array.from(curveFloor),
    rateFloor: constants.rateFloor,
  };
}

/**
 * The level of practice with a head start: ln(1 + E/unit) of logged and earlier practice together.
 *
 * @param factor e^(head start); 1 where there is none
 */
export function levelWithHeadStart(level: number, factor: number): number {
  return factor === 1 ? level : Math.log(factor + Math.expm1(level));
}

/** The level of practice with each head start. */
function headLevels({ headStartFactors }: CurveGrid, level: number): Float64Array {
  return headStartFactors.map((factor) => levelWithHeadStart(level, factor));
}

/** The number of the head start of a curve. */
export function headStartOf({ shapes, shapesPerHeadStart }: CurveGrid, curve: number): number {
  return Math.floor((curve % shapes) / shapesPerHeadStart);
}

/** The landing rate in practice of every curve at a level of practice, limited so that it is never 0 or 1. */
export function practiceRates(grid: CurveGrid, level: number): Float64Array {
  const {
    pairs,
    shapesPerHeadStart: perHead,
    pairSlot,
    pairSteepness,
    slotMidway,
    curveCeiling,
    curveFloor,
    rateFloor,
  } = grid;
  const rates = new Float64Array(grid.curves);
  const levels = headLevels(grid, level);
  for (let pair = 0, curve = 0; pair < pairs; pair++) {
    const midway = slotMidway[pairSlot[pair]!]!;
    for (let head = 0; head < levels.length; head++) {
      const learned = learnedShare(pairSteepness[pair]!, levels[head]! - midway);
      for (let i = 0; i < perHead; i++, curve++) {
        const floor = curveFloor[curve]!;
        const rate = floor + (curveCeiling[curve]! - floor) * learned;
        rates[curve] = rate < rateFloor ? rateFloor : rate > 1 - rateFloor ? 1 - rateFloor : rate;
      }
    }
  }
  return rates;
}

/** Log odds of rates, none of which may be 0 or 1. */
export function ratesToLogits(rates: Float64Array): Float64Array {
  const out = new Float64Array(rates.length);
  for (let i = 0; i < rates.length; i++) out[i] = Math.log(rates[i]! / (1 - rates[i]!));
  return out;
}

/** Log odds of the landing rate in practice at a level of practice, of the given curves in rising order. */
export function curveLogits(grid: CurveGrid, curves: Int32Array, level: number): Float64Array {
  const {
    shapesPerHeadStart: perHead,
    pairSlot,
    pairSteepness,
    slotMidway,
    curveCeiling,
    curveFloor,
    rateFloor,
  } = grid;
  const out = new Float64Array(curves.length);
  const levels = headLevels(grid, level);
  const edge = Math.log((1 - rateFloor) / rateFloor);
  let lastGroup = -1;
  let x = 0;
  let learned = 0;
  for (let i = 0; i < curves.length; i++) {
    const curve = curves[i]!;
    // Curves with the same pair and the same head start have the same logistic part, so it is computed once.
    const own = Math.floor(curve / perHead);
    const pair = Math.floor(own / levels.length);
    if (own !== lastGroup) {
      lastGroup = own;
      const steepness = pairSteepness[pair]!;
      const past = levels[own - pair * levels.length]! - slotMidway[pairSlot[pair]!]!;
      x = learnedLogit(steepness, past);
      learned = learnedShare(steepness, past);
    }
    const floor = curveFloor[curve]!;
    const ceiling = curveCeiling[curve]!;
    let odds = x;
    if (floor !== 0 || ceiling !== 1) {
      const rate = floor + (ceiling - floor) * learned;
      odds = Math.log(rate / (1 - rate));
    }
    out[i] = odds < -edge ? -edge : odds > edge ? edge : odds;
  }
  return out;
}

/**
 * Prior weight of every slot, given the mean half-way point: a normal density, normalised within its layout.
 */
export function slotPrior(grid: CurveGrid, mean: number, sd: number): Float64Array {
  const weights = new Float64Array(grid.slots);
  for (let slot = 0; slot < grid.slots; slot++) {
    const z = (grid.slotMidway[slot]! - mean) / sd;
    weights[slot] = Math.max(minPriorDensity, Math.exp(-0.5 * z * z));
  }
  for (let from = 0; from < grid.slots; from = grid.slotTo[from]!) {
    let total = 0;
    for (let slot = from; slot < grid.slotTo[from]!; slot++) total += weights[slot]!;
    for (let slot = from; slot < grid.slotTo[from]!; slot++) {
      weights[slot] = total > 0 ? weights[slot]! / total : 0;
    }
  }
  return weights;
}

/** The {@link slotPrior} of a difficulty for each of several offsets of the runner. */
export type SlotPriors = (difficulty: number) => readonly Float64Array[];

/** A function that gives the prior of every slot at each offset. It computes them once for each difficulty. */
export function slotPriorsFor(grid: CurveGrid, offsets: Float64Array, constants: Constants): SlotPriors {
  const cached = new Map<number, readonly Float64Array[]>();
  return (difficulty) => {
    let priors = cached.get(difficulty);
    if (priors === undefined) {
      priors = Array.from(offsets, (offset) =>
        slotPrior(grid, midwayMean(difficulty, offset, constants), constants.midwaySd),
      );
      cached.set(difficulty, priors);
    }
    return priors;
  };
}

/**
 * Prior mean of the half-way point, for a difficulty and a runner's offset.
 *
 * @example
 * midwayMean(5, 0, defaultConstants) // 2.5
 * midwayMean(5, 0.7, defaultConstants) // 1.8
 */
export function midwayMean(difficulty: number, offset: number, constants: Constants): number {
  const step = clamp(finiteOr(difficulty, 5), 1, 10) - 1;
  return constants.midwayAtEasiest + constants.midwayPerStep * step - offset;
}
