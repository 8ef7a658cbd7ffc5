/** The expected best of several runs, when what the runner does not know is the same in all of them. */
import { mapInSteps, type Steps } from '../../incremental/steps.ts';
import { expectedBest, massAndMean } from './timeStatistics.ts';
import { finalTimeDistribution } from './timeDistribution.ts';
import type { TimeDistribution } from './timeDistribution.ts';
import type { PersistentWorld } from './persistentWorlds.ts';
import type { RunPlan } from './runPlan.ts';

/** Distributions of final times with weights. */
export type WeightedTimes = readonly { readonly weight: number; readonly times: TimeDistribution }[];

/** Expected best of each number of finished runs: each part's own value, weighted by its chance to finish. */
export function meanBests(parts: WeightedTimes, runCounts: readonly number[]): number[] {
  const masses = parts.map(({ weight, times }) => weight * massAndMean(times).mass);
  const total = masses.reduce((a, b) => a + b, 0);
  return runCounts.map((runs) =>
    parts.reduce(
      (sum, { times }, i) => sum + (total > 0 ? masses[i]! / total : 0) * expectedBest(times, runs),
      0,
    ),
  );
}

/** Standard deviation of the final times of finished runs, seconds. */
function deviationOfTimes({ step, masses }: TimeDistribution): number {
  let [mass, first, second] = [0, 0, 0];
  for (let i = 0; i < masses.length; i++) {
    mass += masses[i]!;
    first += masses[i]! * i;
    second += masses[i]! * i * i;
  }
  return mass > 0 ? Math.sqrt(Math.max(0, second / mass - (first / mass) ** 2)) * step : 0;
}

/** The grid of the worlds has this many points in a standard deviation of the final time. */
const pointsPerDeviation = 12;

/** Seconds between grid points for plans of many worlds: coarse enough to be quick, fine enough for means. */
export function coarseStep(times: TimeDistribution): number {
  return Math.max(times.step, deviationOfTimes(times) / pointsPerDeviation);
}

/**
 * How much the expected best of each number of runs changes when the doubts about single techniques last over all
 * runs, instead of being drawn anew in each; seconds, mostly above 0, and 0 for a single run. It is the difference
 * between the worlds and the scenarios that they belong to, both on the same coarse grid, so that the error of the
 * grid cancels. Each world is a step.
 *
 * @param times the distribution of the final time, for the width of the grid
 * @param plans plans a run in a world, or in a scenario (where doubts are drawn anew), on a grid of `step` seconds
 */
export function* persistentDoubtEffect(
  worlds: readonly PersistentWorld[],
  times: TimeDistribution,
  runCounts: readonly number[],
  plans: {
    readonly world: (world: PersistentWorld, step: number) => RunPlan;
    readonly scenario: (scenario: number, step: number) => RunPlan;
  },
): Steps<number[]> {
  const step = coarseStep(times);
  const weight = 1 / worlds.length;
  const doubted = yield* mapInSteps(worlds, (world) => ({
    weight,
    times: finalTimeDistribution(plans.world(world, step)),
  }));
  const byScenario = new Map<number, TimeDistribution>();
  const anew = yield* mapInSteps(worlds, ({ scenario }) => {
    const known = byScenario.get(scenario) ?? finalTimeDistribution(plans.scenario(scenario, step));
    byScenario.set(scenario, known);
    return { weight, times: known };
  });
  const counts = [1, ...runCounts];
  const [lasting, passing] = [meanBests(doubted, counts), meanBests(anew, counts)];
  return runCounts.map((_, i) => lasting[i + 1]! - passing[i + 1]! - (lasting[0]! - passing[0]!));
}
