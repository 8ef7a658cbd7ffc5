/** How a technique differs from what was taken of it beforehand: its difficulty, and its loss in runs. */
import type { Constants } from '../core/constants.ts';
import { midwayMean } from './curveGrid.ts';
import { weightedQuantile } from '../core/numbers.ts';
import type { SkillPosterior } from './skillPosterior.ts';
import type { Estimate } from '../core/types.ts';

function estimateOf(points: Float64Array, masses: Float64Array): Estimate {
  let total = 0;
  let sum = 0;
  for (let i = 0; i < points.length; i++) {
    total += masses[i]!;
    sum += points[i]! * masses[i]!;
  }
  return {
    mean: total > 0 ? sum / total : 0,
    low: weightedQuantile(points, masses, 0.1),
    high: weightedQuantile(points, masses, 0.9),
  };
}

/**
 * Steps of difficulty by which a technique comes harder (or, negative, easier) than it is rated, the runner's own
 * offset taken out: where its half-way point lies against the one that its rating leads to expect.
 *
 * @param offset the runner's offset from the difficulty scale
 */
export function difficultyDeviation(
  posterior: SkillPosterior,
  difficulty: number,
  offset: number,
  constants: Constants,
): Estimate {
  const expected = midwayMean(difficulty, offset, constants);
  const sorted = midways(posterior);
  const perStep = Math.max(1e-9, constants.midwayPerStep);
  return estimateOf(
    Float64Array.from(sorted, ([midway]) => (midway - expected) / perStep),
    Float64Array.from(sorted, ([, share]) => share),
  );
}

/** Half-way points with their shares, in rising order: two layouts of them share their places. */
function midways({ grid, curves, mass }: SkillPosterior): (readonly [midway: number, share: number])[] {
  const byPlace = new Map<number, number>();
  for (let i = 0; i < curves.length; i++) {
    const midway = grid.slotMidway[grid.curveSlot[curves[i]!]!]!;
    byPlace.set(midway, (byPlace.get(midway) ?? 0) + mass[i]!);
  }
  return [...byPlace].sort(([a], [b]) => a - b);
}

/** The half-way point of the learning curve, in ln(1 + E/unit). */
export function midwayEstimate(posterior: SkillPosterior): Estimate {
  const sorted = midways(posterior);
  return estimateOf(
    Float64Array.from(sorted, ([midway]) => midway),
    Float64Array.from(sorted, ([, share]) => share),
  );
}

/** Log odds lost in a run against practice. */
export function pressureLossEstimate({ losses, rows, row, weight }: SkillPosterior): Estimate {
  const width = losses.count;
  const masses = new Float64Array(width);
  for (let i = 0; i < weight.length; i++)
    for (let j = 0; j < width; j++) masses[j]! += weight[i]! * rows[row[i]! * width + j]!;
  return estimateOf(
    Float64Array.from({ length: width }, (_, j) => losses.from + j * losses.step),
    masses,
  );
}
