/** The odds of a runner's next run, from the route and the logs. */
import { expectationInRun } from '../skill/rateEstimates.ts';
import { computeOdds } from './odds.ts';
import type { Odds } from './odds.ts';
import { prepareModel } from './preparedModel.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { RankInput } from './preparedModel.ts';
import { runnerScenarios } from './runnerScenarios.ts';

export interface OddsRequest {
  /** Time to beat, seconds; null where there is none. */
  readonly target: number | null;
  /** Techniques to count in besides those in the run. */
  readonly with?: readonly string[];
  /** Take the posterior mean landing rates as known, in place of averaging over what the runner may be. */
  readonly ratesKnown?: boolean;
  /** Seconds between grid points; 0.1 where left out. */
  readonly step?: number;
}

/** Answers {@link computeOdds} for what is in the run on the morning asked about, at the landing rates inferred from the logs. */
export function oddsFromLogs(input: RankInput, request: OddsRequest, cache?: ModelCache): Odds {
  const prepared = prepareModel(input, cache);
  const tried = new Set(request.with ?? []);
  for (const [id, { technique }] of prepared.fittedTechniques)
    if (technique.state === 'in-run') tried.add(id);
  const means = new Map<string, number>();
  for (const id of tried) {
    const subject = prepared.fittedTechniques.get(id);
    if (subject === undefined) continue;
    means.set(id, expectationInRun(subject.posterior, subject.logitsNow, prepared.rates));
  }
  return computeOdds({
    route: input.route,
    tried: new Set(means.keys()),
    rateOf: (technique) => means.get(technique) ?? 0,
    ...(request.ratesKnown !== true && { scenarios: runnerScenarios(prepared, means) }),
    target: request.target,
    constants: prepared.constants,
    ...(request.step !== undefined && { step: request.step }),
  });
}
