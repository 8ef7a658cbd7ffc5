/** The test for a slip, for every technique that the runs of a week can say something about. */
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

/** The test of the last week's runs against what was to be expected. */
export interface SlipTest {
  /** Landed and tried in the week. */
  readonly week: AttemptCount;
  /** Landed and tried in the four weeks before. */
  readonly earlier: AttemptCount;
  /** How many of the week's tries were to be expected to land: the lower of the two predictions. */
  readonly expected: number;
  /** Chance of so few or fewer if nothing slipped: the larger of the two. */
  readonly chance: number;
  /** Whether it stands after correction for all techniques tested. */
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
  // The week's practice counts for what is expected of its runs; the runs themselves must not.
  const expecting = prepareModel({
    ...input,
    logs: { practice: input.logs.practice, runs: cut.before.runs },
  });
  const { constants } = expecting;
  for (const id of ids.sort()) {
    const subject = expecting.fittedTechniques.get(id);
    if (subject === undefined) continue;
    const days = countsByDay(week.get(id)!);
    const own = predictCount(
      days,
      constantRatePosterior(countsByDay(earlier.get(id)!), constants),
      constants,
    );
    const at = meanLevelOnDays(subject, input, cut, days, expecting);
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

/** Level of practice on the days of some runs, weighted by their tries. */
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
