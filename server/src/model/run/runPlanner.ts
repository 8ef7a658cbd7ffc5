/** Plans runs of one runner at different landing rates, with the same techniques tried in all of them. */
import type { Constants } from '../core/constants.ts';
import { clamp } from '../core/numbers.ts';
import type { RouteModel } from '../core/types.ts';
import { expectationInRun } from '../skill/rateEstimates.ts';
import { chooseBaseline } from './baseline.ts';
import type { DeviationOf } from './outcomes.ts';
import type { ChosenOptions } from './playSegments.ts';
import type { PreparedModel } from './preparedModel.ts';
import type { RouteLayout } from './routeLayout.ts';
import { planRun } from './runPlan.ts';
import type { RunPlan } from './runPlan.ts';
import type { LandingRateOf } from './runState.ts';

/**
 * Mean landing rate in a run of each technique that may be tried, in order of id.
 *
 * @param extra ids of techniques that may be tried besides those in the run
 */
export function meanRatesInRuns(
  { fittedTechniques, rates }: PreparedModel,
  extra: readonly string[],
): Map<string, number> {
  const extraIds = new Set(extra);
  const means = new Map<string, number>();
  for (const [id, { technique, posterior, logitsNow }] of fittedTechniques)
    if (technique.state === 'in-run' || extraIds.has(id))
      means.set(id, expectationInRun(posterior, logitsNow, rates));
  return means;
}

export interface RunPlanner {
  /** The options that are played in every run. */
  readonly played: ChosenOptions;
  /**
   * A run at these landing rates. A technique that is not tried never lands.
   *
   * @param step seconds between grid points; 0.1 if omitted
   */
  readonly planAt: (rateOf: LandingRateOf, step?: number, deviationOf?: DeviationOf) => RunPlan;
}

/**
 * Makes a planner. What is tried is chosen at the single best guess, because a runner has to decide without knowing the
 * true rates.
 *
 * @param tried techniques that may be tried
 * @param meanRateOf the best guess of each landing rate, 0 to 1
 */
export function createRunPlanner(
  { route, layout }: { readonly route: RouteModel; readonly layout: RouteLayout },
  tried: { readonly has: (technique: string) => boolean },
  meanRateOf: LandingRateOf,
  constants: Constants,
): RunPlanner {
  const triedOnly =
    (rateOf: LandingRateOf): LandingRateOf =>
    (technique) =>
      tried.has(technique) ? clamp(rateOf(technique), 0, 1) : 0;
  const { played } = chooseBaseline(
    layout,
    (technique) => tried.has(technique),
    triedOnly(meanRateOf),
    constants,
  );
  return {
    played,
    planAt: (rateOf, step, deviationOf) =>
      planRun(route, layout, { played, rateOf: triedOnly(rateOf), ...(deviationOf && { deviationOf }) }, step)
        .plan,
  };
}
