/**
 * Estimates of how a technique differs from its prior: how much harder it is than its rating, and how much it loses
 * in runs.
 */
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
 * By how many steps of difficulty a technique is harder than its rating (negative: easier), apart from the runner's
 * own offset. It compares the half-way point of its learning curve with the one expected from the rating.
 *
 * @param expected half-way point by the rating, for this runner, in ln(1 + E/unit)
 * @param perStep what a step of difficulty usually adds to it
 */
export function difficultyDeviation(posterior: SkillPosterior, expected: number, perStep: number): Estimate {
  const sorted = midways(posterior);
  return estimateOf(
    Float64Array.from(sorted, ([midway]) => (midway - expected) / Math.max(1e-9, perStep)),
    Float64Array.from(sorted, ([, share]) => share),
  );
}

/**
 * Half-way points with their posterior shares, in rising order. Points that occur in both layouts of the grid are
 * added up.
 */
function midways({ grid, curves, mass }: SkillPosterior): (readonly [midway: number, share: number])[] {
  const shareByMidway = new Map<number, number>();
  for (let i = 0; i < curves.length; i++) {
    const midway = grid.slotMidway[grid.curveSlot[curves[i]!]!]!;
    shareByMidway.set(midway, (shareByMidway.get(midway) ?? 0) + mass[i]!);
  }
  return [...shareByMidway].sort(([a], [b]) => a - b);
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
