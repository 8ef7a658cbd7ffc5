/**
 * Ceilings and floors of the learning curves, in bands.
 *
 * Within its band the ceiling or the floor of a curve lies anywhere, with equal weight. No curve has the middle of a band: where it
 * lies moves on from pair to pair, so that all curves together cover a band finely although each pair has only one in it. With a few
 * fixed values, a rate measured well would lie between two of them, and each would be sure and wrong.
 */
import { clamp } from '../core/numbers.ts';
import type { Constants } from '../core/constants.ts';

/** A band of ceilings or floors, from the lower to the upper end; a single value where the two are equal. */
export interface Band {
  readonly from: number;
  readonly to: number;
}

/** The bands between neighbouring edges. The first edge is a band of its own: that value exactly. */
export function bandsBetween(edges: readonly number[]): Band[] {
  return edges.map((edge, i) => {
    const [a, b] = [clamp(edges[i - 1] ?? edge, 0, 1), clamp(edge, 0, 1)];
    return { from: Math.min(a, b), to: Math.max(a, b) };
  });
}

/**
 * The value of a band at a place, of which only the part after the decimal point counts. Every second one is as far from the other
 * end of the band, so that neighbouring curves together are in its middle.
 */
export function placeIn({ from, to }: Band, place: number, number: number): number {
  const part = (0.5 + place) % 1;
  return from + (to - from) * (number % 2 === 0 ? part : 1 - part);
}

/**
 * By how much the places in a band move from pair to pair. Multiples of such numbers (the golden section and the square root of
 * two, less their whole parts) are spread evenly however many there are.
 */
export const stride = { ceiling: 0.6180339887498949, floor: 0.41421356237309515 };

/** The bands of floors. A technique with a head start no longer lands only by luck, so it has only the lowest floor. */
export function curveFloors(constants: Constants, headStart: boolean): Band[] {
  return bandsBetween(headStart ? [Math.min(...constants.floors)] : constants.floors);
}

/**
 * Which curves a grid has, from the most to the fewest for one pair of suddenness and half-way point: every band of floors with every
 * band of ceilings, for what is counted; one band of floors with each of ceilings, where nothing was counted; one band of ceilings
 * with each head start. Which one that is moves on from pair to pair, so that neighbouring pairs together have them all.
 */
export type GridKind = 'counted' | 'uncounted' | 'headStart';

/** A band of ceilings, a band of floors and a head start. */
export interface CurveShape {
  readonly ceiling: Band;
  readonly floor: Band;
  /** Numbers of the two bands and of the head start. */
  readonly bandOfCeiling: number;
  readonly bandOfFloor: number;
  readonly head: number;
}

/** The bands that take turns: those with a weight above 0, or all where none has. */
function inTurn(weights: readonly number[]): number[] {
  const all = [...weights.keys()];
  const weighed = all.filter((i) => weights[i]! > 0);
  return weighed.length > 0 ? weighed : all;
}

/**
 * The shapes that pairs have by turns, as many each time: pair n has those of number n, counted round. The head start is in the
 * outermost loop.
 */
export function curveShapes(constants: Constants, kind: GridKind): readonly (readonly CurveShape[])[] {
  const ceilings = bandsBetween(constants.ceilings);
  const floors = curveFloors(constants, kind === 'headStart');
  const shape = (bandOfCeiling: number, bandOfFloor: number, head: number): CurveShape => ({
    ceiling: ceilings[bandOfCeiling]!,
    floor: floors[bandOfFloor]!,
    bandOfCeiling,
    bandOfFloor,
    head,
  });
  switch (kind) {
    case 'counted':
      return [ceilings.flatMap((_, ceiling) => floors.map((_, floor) => shape(ceiling, floor, 0)))];
    case 'uncounted': {
      const turns = inTurn(constants.floorWeights);
      return turns.map((_, n) =>
        ceilings.map((_, ceiling) => shape(ceiling, turns[(n + ceiling) % turns.length]!, 0)),
      );
    }
    case 'headStart': {
      const turns = inTurn(constants.ceilingWeights);
      return turns.map((_, n) =>
        constants.headStarts.map((_, head) => shape(turns[(n + head) % turns.length]!, 0, head)),
      );
    }
  }
}
