/** The same run on a coarser grid, on which a first guess of the reset line is found quickly. */
import { gammaNoise } from './segmentNoise.ts';
import type { RunPlan, TimeShifts } from './runPlan.ts';

/**
 * Moves points to a grid `factor` times as coarse. Mass between two points is divided between them so that the mean
 * stays the same.
 */
function onWiderGrid({ gives, points, chances }: TimeShifts, factor: number): TimeShifts {
  const masses = new Map<number, number>();
  points.forEach((point, p) => {
    const below = Math.floor(point / factor);
    const upper = point / factor - below;
    masses.set(below, (masses.get(below) ?? 0) + chances[p]! * (1 - upper));
    if (upper > 0) masses.set(below + 1, (masses.get(below + 1) ?? 0) + chances[p]! * upper);
  });
  const sorted = [...masses].sort((a, b) => a[0] - b[0]);
  return { gives, points: sorted.map(([point]) => point), chances: sorted.map(([, chance]) => chance) };
}

/** A plan with a step `factor` (a whole number) times as large. All means stay exactly the same. */
export function coarsenPlan(plan: RunPlan, factor: number): RunPlan {
  const step = plan.step * factor;
  return {
    ...plan,
    step,
    segments: plan.segments.map((segment) => ({
      ...segment,
      noise: gammaNoise(segment.noise.mean, segment.noise.spread, step),
      steps: segment.steps.map(({ needs, shifts }) => ({
        needs,
        shifts: shifts.map((list) => onWiderGrid(list, factor)),
      })),
    })),
  };
}
