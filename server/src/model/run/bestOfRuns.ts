/**
 * The expected best of several runs, when what the runner does not know is the same in all of them, and the form of the day in
 * those of one day.
 */
import { mapInSteps, type Steps } from '../../incremental/steps.ts';
import { expectedBestOverDays } from './bestOverDays.ts';
import { massAndMean, mixDistributions } from './timeStatistics.ts';
import { finalTimeDistribution } from './timeDistribution.ts';
import type { TimeDistribution } from './timeDistribution.ts';
import type { PersistentWorld } from './persistentWorlds.ts';
import type { RunPlan } from './runPlan.ts';

/** Distributions of final times with weights. */
export type WeightedTimes = readonly { readonly weight: number; readonly times: TimeDistribution }[];

/** One possible runner: the final times of their runs on days of each form, and how many runs they finish on one day. */
export interface RunnerTimes {
  readonly weight: number;
  readonly byForm: WeightedTimes;
}

/**
 * Expected best of each number of finished runs: each runner's own value, weighted by their chance to finish.
 *
 * @param perDay finished runs of one day
 */
export function meanBests(
  runners: readonly RunnerTimes[],
  runCounts: readonly number[],
  perDay: number,
): number[] {
  const masses = runners.map(
    ({ weight, byForm }) =>
      weight * byForm.reduce((sum, form) => sum + form.weight * massAndMean(form.times).mass, 0),
  );
  const total = masses.reduce((a, b) => a + b, 0);
  return runCounts.map((runs) =>
    runners.reduce(
      (sum, { byForm }, i) =>
        sum + (total > 0 ? masses[i]! / total : 0) * expectedBestOverDays(byForm, runs, perDay),
      0,
    ),
  );
}

/** The same runner with the form drawn anew in each run. */
export function withoutDays({ weight, byForm }: RunnerTimes): RunnerTimes {
  const mixed = byForm.length === 1 ? undefined : mixDistributions(byForm);
  return { weight, byForm: mixed === undefined ? byForm : [{ weight: 1, times: mixed }] };
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

/** Plans of one runner, one for each form of the day. */
type PlansByForm = readonly { readonly weight: number; readonly plan: RunPlan }[];

/**
 * How much the expected best of each number of runs changes when the doubts about single techniques last over all
 * runs, and the form over those of one day, instead of being drawn anew in each; seconds, mostly above 0, and 0 for a single
 * run. It is the difference between the worlds and the scenarios that they belong to, both on the same coarse grid, so that
 * the error of the grid cancels. Each world is a step.
 *
 * @param times the distribution of the final time, for the width of the grid
 * @param perDay finished runs of one day
 * @param plans plans a run in a world, or in a scenario (where doubts are drawn anew), on a grid of `step` seconds
 */
export function* lastingEffect(
  worlds: readonly PersistentWorld[],
  times: TimeDistribution,
  runCounts: readonly number[],
  perDay: number,
  plans: {
    readonly world: (world: PersistentWorld, number: number, step: number) => PlansByForm;
    readonly scenario: (scenario: number, step: number) => PlansByForm;
  },
): Steps<number[]> {
  const step = coarseStep(times);
  const weight = 1 / worlds.length;
  const timesOf = (planned: PlansByForm): RunnerTimes => ({
    weight,
    byForm: planned.map((form) => ({ weight: form.weight, times: finalTimeDistribution(form.plan) })),
  });
  const doubted = yield* mapInSteps(worlds, (world, w) => timesOf(plans.world(world, w, step)));
  const byScenario = new Map<number, RunnerTimes>();
  const anew = yield* mapInSteps(worlds, ({ scenario }) => {
    const known = byScenario.get(scenario) ?? withoutDays(timesOf(plans.scenario(scenario, step)));
    byScenario.set(scenario, known);
    return known;
  });
  const counts = [1, ...runCounts];
  const [lasting, passing] = [meanBests(doubted, counts, perDay), meanBests(anew, counts, perDay)];
  return runCounts.map((_, i) => lasting[i + 1]! - passing[i + 1]! - (lasting[0]! - passing[0]!));
}
