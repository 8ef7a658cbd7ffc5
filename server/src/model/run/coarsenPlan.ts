/** The same run on a wider grid: quick to search, for a first guess. */
import { gammaNoise } from './segmentNoise.ts';
import type { RunPlan, TimeShifts } from './runPlan.ts';

/** Points on a grid `factor` times as wide; mass between two of them goes to both so that the mean is kept. */
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

/** A plan with a step `factor` times as wide (a whole number). Means stay exactly as they are. */
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
