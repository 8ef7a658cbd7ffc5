/** The prior of the half-way points, slot by slot. */
import type { Constants } from '../core/constants.ts';
import { clamp, finiteOr } from '../core/numbers.ts';
import { minPriorDensity } from './curveGrid.ts';
import type { CurveGrid } from './curveGrid.ts';
import { ratingKey } from '../core/rated.ts';
import type { Rated } from '../core/rated.ts';

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

/** The {@link slotPrior} of a technique for each of several offsets of the runner. */
export type SlotPriors = (rated: Rated) => readonly Float64Array[];

/** A function that gives the prior of every slot at each offset. It computes them once for techniques rated alike. */
export function slotPriorsFor(grid: CurveGrid, offsets: Float64Array, constants: Constants): SlotPriors {
  const cached = new Map<string, readonly Float64Array[]>();
  return (rated) => {
    const key = ratingKey(rated);
    let priors = cached.get(key);
    if (priors === undefined) {
      const sd = midwaySdOf(rated, constants);
      priors = Array.from(offsets, (offset) => slotPrior(grid, midwayMean(rated, offset, constants), sd));
      cached.set(key, priors);
    }
    return priors;
  };
}

/** A difficulty on the scale from 1 to 10: one beyond it is at its end, and a missing one is 5. */
export function ratedDifficulty(difficulty: number): number {
  return clamp(finiteOr(difficulty, 5), 1, 10);
}

/**
 * Prior mean of the half-way point, for a runner's offset: by the difficulty, and by what other runners' practice showed.
 *
 * @example
 * midwayMean({ difficulty: 5 }, 0, defaultConstants) // 2.5
 * midwayMean({ difficulty: 5 }, 0.7, defaultConstants) // 1.8
 */
export function midwayMean({ difficulty, others }: Rated, offset: number, constants: Constants): number {
  const step = ratedDifficulty(difficulty) - 1;
  const later = others === undefined ? 0 : others.midway.mean;
  return constants.midwayAtEasiest + constants.midwayPerStep * step + later - offset;
}

/** Prior standard deviation of the half-way point of a runner whose offset is known. */
export function midwaySdOf({ others }: Rated, { midwaySd }: Constants): number {
  return others === undefined ? midwaySd : others.midway.sd;
}
