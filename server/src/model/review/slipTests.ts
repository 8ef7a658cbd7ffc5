/** Tests for a slip every technique that was tried in the runs of a week. */
import { readHistory } from '../skill/practiceHistory.ts';
import { practiceLevel, stateOnMorning } from '../skill/practiceState.ts';
import { prepareModel } from '../run/preparedModel.ts';
import type { PreparedModel, RankInput, FittedTechnique } from '../run/preparedModel.ts';
import {
  expectedRateDistribution,
  holmRejections,
  predictCount,
  familywiseErrorRate,
  constantRatePosterior,
} from './countPrediction.ts';
import type { AttemptCount } from '../core/types.ts';
import { groupByTechnique, countsByDay, comparisonDays, sumCounts } from '../skill/splitLogs.ts';
import type { SplitLogs } from '../skill/splitLogs.ts';

/** The comparison of the last week's runs with the predictions. */
export interface SlipTest {
  /** Counts of the week: landed and tries. */
  readonly week: AttemptCount;
  /** Counts of the four weeks before: landed and tries. */
  readonly earlier: AttemptCount;
  /** Expected number of landings in the week: the lower of the two predictions. */
  readonly expected: number;
  /** Chance of so few or fewer landings if nothing slipped: the larger of the two predicted chances. */
  readonly chance: number;
  /** Whether the test is significant after the correction for all tested techniques. */
  readonly slipped: boolean;
}

/** Tests every technique that was tried in runs of the week and of the weeks before. */
export function slipTests(input: RankInput, cut: SplitLogs): Map<string, SlipTest> {
  const week = groupByTechnique(cut.within.runs);
  const earlier = groupByTechnique(cut.before.runs.filter(({ day }) => day >= cut.from - comparisonDays));
  const ids = [...week.keys()].filter((id) => {
    return sumCounts(week.get(id)!).tries > 0 && sumCounts(earlier.get(id) ?? []).tries > 0;
  });
  const tests = new Map<string, SlipTest>();
  if (ids.length === 0) return tests;
  // The prediction for the week's runs includes the week's practice, but must not include the runs themselves.
  const predictionModel = prepareModel({
    ...input,
    logs: { practice: input.logs.practice, runs: cut.before.runs },
  });
  const { constants } = predictionModel;
  for (const id of ids.sort()) {
    const subject = predictionModel.fittedTechniques.get(id);
    if (subject === undefined) continue;
    const days = countsByDay(week.get(id)!);
    const own = predictCount(
      days,
      constantRatePosterior(countsByDay(earlier.get(id)!), constants),
      constants,
    );
    const at = meanLevelOnDays(subject, input, cut, days, predictionModel);
    const model = predictCount(days, expectedRateDistribution(subject.posterior, at), constants);
    tests.set(id, {
      week: sumCounts(week.get(id)!),
      earlier: sumCounts(earlier.get(id)!),
      expected: Math.min(own.mean, model.mean),
      chance: Math.max(own.chance, model.chance),
      slipped: false,
    });
  }
  const called = holmRejections(
    [...tests.values()].map(({ chance }) => chance),
    familywiseErrorRate,
  );
  return new Map([...tests].map(([id, test], i) => [id, { ...test, slipped: called[i]! }]));
}

/** Mean level of practice on the days of some runs, weighted by their tries. */
function meanLevelOnDays(
  { technique }: FittedTechnique,
  input: RankInput,
  cut: SplitLogs,
  days: ReturnType<typeof countsByDay>,
  { constants }: PreparedModel,
): number {
  const mine = (entry: { technique: string }): boolean => entry.technique === technique.id;
  const practice = input.logs.practice.filter(mine);
  const runs = cut.before.runs.filter(mine);
  let sum = 0;
  let tries = 0;
  for (const day of days) {
    const { state } = readHistory(
      technique,
      practice.filter((entry) => entry.day < day.day),
      runs,
      constants,
    );
    sum += day.tries * practiceLevel(stateOnMorning(state, day.day, constants).effective, constants);
    tries += day.tries;
  }
  return tries > 0 ? sum / tries : 0;
}
