/**
 * The data of a run's chart: the distribution of final times as a few bars, and the expected run time at the end of
 * each segment.
 */
import { inOneGo, mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import {
  advanceThroughSegment,
  startOfRun,
  finalTimeDistribution,
  toTimeDistribution,
} from './timeDistribution.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { RankInput } from './preparedModel.ts';
import { prepareModelInSteps } from './preparedModel.ts';
import { chanceUnder, massAndMean, mixDistributions, quantileOf } from './timeStatistics.ts';
import { dayForms, formOfRunnerInSteps, ratesOnForms } from './formOfRuns.ts';
import { createRunPlanner, meanRatesInRuns } from './runPlanner.ts';
import type { LandingRateOf } from './runState.ts';
import { runnerScenarios } from './runnerScenarios.ts';

/** Final times between two bounds, seconds. */
export interface TimeBar {
  readonly from: number;
  readonly to: number;
  /** Share of the runs that finish, 0 to 1. */
  readonly share: number;
}

export interface RunTimes {
  /**
   * All bars have the same width and start at multiples of it. Together they contain all final times except a share
   * of a thousandth at each end.
   */
  readonly bars: readonly TimeBar[];
  /** Expected time at the end of each segment, for runs that reach it, seconds. */
  readonly clocks: readonly { readonly segment: string; readonly clock: number }[];
}

/** Widths that bars may have, seconds. */
const widths = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600];
const mostBars = 48;
/** Share of the final times that is left out at each end of the chart. */
const tail = 1e-3;
/** Seconds between grid points. */
const step = 0.5;

/**
 * The distribution of the final times of runs that are never reset, for the techniques in the run, averaged over
 * the possible runners and the forms that a day may have. The expected times at the segments use the best single guess of the landing rates.
 *
 * @param extra ids of techniques that may be tried besides those in the run
 */
export const runTimes = inOneGo(runTimesInSteps);

/** The same in steps. */
export function* runTimesInSteps(
  input: RankInput,
  cache?: ModelCache,
  extra: readonly string[] = [],
): Steps<RunTimes> {
  const prepared = yield* prepareModelInSteps(input, cache);
  const { layout, constants } = prepared;
  const means = meanRatesInRuns(prepared, extra);
  const meanRateOf: LandingRateOf = (technique) => means.get(technique) ?? 0;
  const { planAt } = createRunPlanner({ route: input.route, layout }, means, meanRateOf, constants);
  const bestGuess = planAt(meanRateOf, step);
  const forms = dayForms(yield* formOfRunnerInSteps(prepared));
  const possible = runnerScenarios(prepared, means).flatMap(({ weight, rateOf }) =>
    ratesOnForms(rateOf, forms).map((own, f) => ({ weight: weight * forms[f]!.weight, rateOf: own })),
  );
  const parts = yield* mapInSteps(possible, ({ weight, rateOf }) => ({
    weight,
    times: finalTimeDistribution(planAt(rateOf, bestGuess.step)),
  }));
  const times = mixDistributions(parts) ?? finalTimeDistribution(bestGuess);
  let stage = startOfRun;
  const clocks = yield* mapInSteps(bestGuess.segments, (segment) => {
    stage = advanceThroughSegment(stage, segment);
    return { segment: segment.id, clock: massAndMean(toTimeDistribution(stage, bestGuess)).mean };
  });
  return { bars: barsOf(times), clocks };
}

function barsOf(times: Parameters<typeof chanceUnder>[0]): TimeBar[] {
  const { mass } = massAndMean(times);
  if (!(mass > 0)) return [];
  const low = quantileOf(times, tail);
  const high = quantileOf(times, 1 - tail);
  const wanted = Math.max(times.step, (high - low) / mostBars);
  const width = widths.find((one) => one >= wanted) ?? wanted;
  const first = Math.floor(low / width);
  const last = Math.max(first + 1, Math.ceil(high / width));
  const bars: TimeBar[] = [];
  for (let i = first; i < last; i++) {
    const from = i * width;
    const to = (i + 1) * width;
    const share = Math.max(0, chanceUnder(times, to) - chanceUnder(times, from)) / mass;
    bars.push({ from, to, share });
  }
  return bars;
}
