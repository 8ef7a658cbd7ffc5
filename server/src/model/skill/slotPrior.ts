/** The prior of the half-way points, slot by slot. */
import type { Constants } from '../core/constants.ts';
import { clamp, finiteOr } from '../core/numbers.ts';
import { minPriorDensity } from './curveGrid.ts';
import type { CurveGrid } from './curveGrid.ts';

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

/** A difficulty on the scale from 1 to 10: one beyond it is at its end, and a missing one is 5. */
export function ratedDifficulty(difficulty: number): number {
  return clamp(finiteOr(difficulty, 5), 1, 10);
}

/**
 * Prior mean of the half-way point, for a difficulty and a runner's offset.
 *
 * @example
 * midwayMean(5, 0, defaultConstants) // 2.5
 * midwayMean(5, 0.7, defaultConstants) // 1.8
 */
export function midwayMean(difficulty: number, offset: number, constants: Constants): number {
  const step = ratedDifficulty(difficulty) - 1;
  return constants.midwayAtEasiest + constants.midwayPerStep * step - offset;
}
