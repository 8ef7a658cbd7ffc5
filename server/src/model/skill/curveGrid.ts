/**
 * The grid of learning curves: combinations of half-way point, steepness, and band of ceiling and floor.
 *
 * A curve is numbered pair · shapes + shape, where a pair is (steepness, half-way point) and a shape is a band of
 * ceilings, a band of floors and a head start. Which shapes a pair has, the kind of grid says (`curveShapes.ts`). Where in its bands a curve lies differs from pair to pair
 * (`curveShapes.ts`). A pair sits in a slot: the half-way points are laid out once in steps of `midwayStep` and once in half
 * that step, and steep curves use the finer of the two, because a step changes their rate more.
 *
 * A technique that was in the run before the logs began has an unknown amount of earlier practice. Its grid has a
 * further dimension, the head start: practice before the first entry, which is added to the logged practice.
 */
import type { Constants } from '../core/constants.ts';
import { clamp, finiteOr } from '../core/numbers.ts';
import { curveShapes, placeIn, stride } from './curveShapes.ts';
import type { GridKind } from './curveShapes.ts';
import { learnerKinds, shares, withShape } from './learnerKinds.ts';
import type { LearnerKind } from './learnerKinds.ts';
import type { ShapeFactors } from '../core/rated.ts';

export interface CurveGrid {
  readonly kind: GridKind;
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
  /** For each curve: its slot, and the numbers of its bands of ceiling and floor. */
  readonly curveSlot: Int32Array;
  readonly ceilingBand: Uint8Array;
  readonly floorBand: Uint8Array;
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

/** The half-way points, laid out once in wide and once in narrow steps. */
function layOutSlots({ midwayLow, midwayHigh, midwayStep }: Constants) {
  const span = midwayHigh - midwayLow;
  const layouts = [1, 2].map((finer) => Math.round((span * finer) / midwayStep) + 1);
  const slots = layouts.reduce((a, b) => a + b, 0);
  const slotMidway = new Float64Array(slots);
  const slotFrom = new Int32Array(slots);
  const slotTo = new Int32Array(slots);
  let from = 0;
  for (const count of layouts) {
    for (let i = 0; i < count; i++) {
      slotMidway[from + i] = midwayLow + (span * i) / (count - 1);
      slotFrom[from + i] = from;
      slotTo[from + i] = from + count;
    }
    from += count;
  }
  return { slots, slotMidway, slotFrom, slotTo };
}

/** For a kind of learner, the prior weight of every curve: pair by pair, with the shapes that it has in its turn. */
function weightsFor(
  { steepness, ceilings, floors }: LearnerKind,
  pairs: readonly Pair[],
  kind: GridKind,
  constants: Constants,
): Float64Array {
  const turns = curveShapes(constants, kind);
  const starts = shares(constants.headStartWeights);
  const sharesOfTurns = turns.map((shapes) =>
    shares(
      shapes.map(
        ({ bandOfCeiling, bandOfFloor, head }) =>
          (ceilings[bandOfCeiling] ?? 0) *
          (kind === 'headStart' ? starts[head]! : (floors[bandOfFloor] ?? 0)),
      ),
    ),
  );
  return Float64Array.from(
    pairs.flatMap(({ number }, pair) =>
      sharesOfTurns[pair % turns.length]!.map((share) => (steepness[number] ?? 0) * share),
    ),
  );
}

/** The same curves for a technique whose curves have more or less weight than usual. */
export function shapedBy(grid: CurveGrid, shape: ShapeFactors, constants: Constants): CurveGrid {
  const learnerWeights = learnerKinds(constants).map((learner) =>
    weightsFor(withShape(learner, shape), pairsOf(constants), grid.kind, constants),
  );
  return { ...grid, ...meanWeights(learnerWeights, grid.learnerShares) };
}

/** A suddenness, with its number, and the slot of a half-way point. */
interface Pair {
  readonly number: number;
  readonly steepness: number;
  readonly slot: number;
}

/** All pairs in the order of the grid. */
function pairsOf(constants: Constants): Pair[] {
  const { slots, slotTo } = layOutSlots(constants);
  const coarse = slotTo[0] ?? 0;
  return [...constants.steepness, exponential].flatMap((steepness, number) => {
    const first = steepness < steep ? 0 : coarse;
    const last = steepness < steep ? coarse : slots;
    return Array.from({ length: last - first }, (_, i) => ({ number, steepness, slot: first + i }));
  });
}

/** Lays out the grid of a kind for the given constants. */
export function curveGrid(constants: Constants, kind: GridKind = 'counted'): CurveGrid {
  const layout = layOutSlots(constants);
  const pairs = pairsOf(constants);
  const turns = curveShapes(constants, kind);
  const starts = kind === 'headStart' ? constants.headStarts : [0];
  const curveSlot: number[] = [];
  const ceilingBand: number[] = [];
  const floorBand: number[] = [];
  const curveCeiling: number[] = [];
  const curveFloor: number[] = [];
  const learners = learnerKinds(constants);
  pairs.forEach(({ slot }, pair) => {
    for (const { ceiling, floor, bandOfCeiling, bandOfFloor, head } of turns[pair % turns.length]!) {
      curveSlot.push(slot);
      ceilingBand.push(bandOfCeiling);
      floorBand.push(bandOfFloor);
      const number = bandOfCeiling + bandOfFloor + head;
      curveCeiling.push(placeIn(ceiling, pair * stride.ceiling, number));
      curveFloor.push(placeIn(floor, pair * stride.floor, bandOfCeiling));
    }
  });
  const shapes = turns[0]!.length;
  return {
    kind,
    curves: curveSlot.length,
    pairs: pairs.length,
    shapes,
    ...layout,
    pairSlot: Int32Array.from(pairs, ({ slot }) => slot),
    pairSteepness: Float64Array.from(pairs, ({ steepness }) => finiteOr(steepness, 1)),
    shapesPerHeadStart: shapes / starts.length,
    headStartFactors: Float64Array.from(starts, (start) => Math.exp(clamp(start, 0, 30))),
    curveSlot: Int32Array.from(curveSlot),
    ceilingBand: Uint8Array.from(ceilingBand),
    floorBand: Uint8Array.from(floorBand),
    ...meanWeights(
      learners.map((learner) => weightsFor(learner, pairs, kind, constants)),
      learners.map(({ share }) => share),
    ),
    curveCeiling: Float64Array.from(curveCeiling),
    curveFloor: Float64Array.from(curveFloor),
    rateFloor: constants.rateFloor,
  };
}
