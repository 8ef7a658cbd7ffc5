/** The odds of a runner's next run, from the route and the logs. */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { computeOddsInSteps } from './odds.ts';
import type { Odds } from './odds.ts';
import { prepareModelInSteps } from './preparedModel.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { RankInput } from './preparedModel.ts';
import { formOfRunnerInSteps } from './formOfRuns.ts';
import { persistentWorlds } from './persistentWorlds.ts';
import { meanRatesInRuns } from './runPlanner.ts';
import { runnerScenarios } from './runnerScenarios.ts';

export interface OddsRequest {
  /** Time to beat, seconds; null if there is none. */
  readonly target: number | null;
  /** Techniques that may be tried in addition to those in the run. */
  readonly with?: readonly string[];
  /** Whether to take the posterior mean landing rates as certain instead of averaging over possible runners. */
  readonly ratesKnown?: boolean;
  /** Seconds between grid points; 0.1 if omitted. */
  readonly step?: number;
  /** Minutes of runs on a day with runs; two hours if omitted. */
  readonly runMinutesPerDay?: number | undefined;
}

/**
 * Calls {@link computeOdds} for the techniques that are in the run on the morning of `asOfDay`, at the landing
 * rates inferred from the logs.
 */
export const oddsFromLogs = inOneGo(oddsFromLogsInSteps);

/** The same in steps. */
export function* oddsFromLogsInSteps(
  input: RankInput,
  request: OddsRequest,
  cache?: ModelCache,
): Steps<Odds> {
  const prepared = yield* prepareModelInSteps(input, cache);
  const means = meanRatesInRuns(prepared, request.with ?? []);
  const scenarios = request.ratesKnown === true ? [] : runnerScenarios(prepared, means);
  return yield* computeOddsInSteps({
    route: input.route,
    tried: new Set(means.keys()),
    rateOf: (technique) => means.get(technique) ?? 0,
    scenarios,
    worlds: persistentWorlds(prepared, input.route, means, scenarios),
    target: request.target,
    constants: prepared.constants,
    form: yield* formOfRunnerInSteps(prepared),
    ...(request.runMinutesPerDay !== undefined && { runMinutesPerDay: request.runMinutesPerDay }),
    ...(request.step !== undefined && { step: request.step }),
  });
}
