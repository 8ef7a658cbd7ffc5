/** Tests whether a technique landed less often in the last week's runs than before: a slip. */
import { readHistory } from '../skill/practiceHistory.ts';
import type { FittedTechnique, PreparedModel } from '../run/preparedModel.ts';
import {
  expectedRateDistribution,
  familywiseErrorRate,
  holmRejections,
  predictCount,
} from './countPrediction.ts';
import type { SlipTest } from '../core/standing.ts';
import { comparisonDays, countsByDay, splitLogs, sumCounts } from '../skill/splitLogs.ts';
import type { SplitLogs } from '../skill/splitLogs.ts';
import { levelOnMorning } from '../skill/practiceState.ts';
import { fitPart, upToDay } from './pastFit.ts';

/** The tests of one morning. */
export interface SlipTests {
  /** Techniques that were tried in runs of the week and of the four weeks before, in order of id. */
  readonly tested: readonly string[];
  /** Whether a technique slipped; computes only as many tests as are needed to say so. */
  readonly slipped: (technique: string) => boolean;
  /** The test of a technique; null if it was not tested. */
  readonly test: (technique: string) => SlipTest | null;
}

type UncorrectedTest = Omit<SlipTest, 'slipped'>;

/**
 * The slip tests on the morning of `asOfDay`.
 *
 * @param lastDay last day whose entries were known then
 */
export function slipTests(prepared: PreparedModel, asOfDay: number, lastDay = asOfDay): SlipTests {
  const parts = new Map<string, SplitLogs>();
  for (const [id, { log }] of prepared.fittedTechniques) {
    const cut = splitLogs(upToDay(log, lastDay), asOfDay);
    if (sumCounts(cut.within.runs).tries > 0 && sumCounts(comparedRuns(cut)).tries > 0) parts.set(id, cut);
  }
  const tested = [...parts.keys()];
  const chances = new Map<string, UncorrectedTest>();
  const uncorrected = (id: string): UncorrectedTest => {
    const known = chances.get(id);
    if (known !== undefined) return known;
    const subject = prepared.fittedTechniques.get(id)!;
    const on = [subject.log, subject.prior, subject.paysFrom, subject.posterior.grid, prepared.constants];
    const cut = parts.get(id)!;
    const test = subject.memory.getOrCompute(`slip test of ${daysOf(cut)}`, on, () =>
      testWeek(subject, prepared, cut),
    );
    chances.set(id, test);
    return test;
  };
  const chanceOf = (id: string): number => (landedLess(parts.get(id)!) ? uncorrected(id).chance : 1);
  const slipped = (id: string): boolean => {
    if (!parts.has(id)) return false;
    const chance = chanceOf(id);
    // The correction lets no test pass above the error rate, and the smallest of all passes below its share of it.
    if (chance > familywiseErrorRate) return false;
    if (chance <= familywiseErrorRate / tested.length) return true;
    const all = tested.map(chanceOf);
    return holmRejections(all, familywiseErrorRate)[tested.indexOf(id)]!;
  };
  return {
    tested,
    slipped,
    test: (id) => (parts.has(id) ? { ...uncorrected(id), slipped: slipped(id) } : null),
  };
}

/** The days on which the entries of a test end: mornings that agree in them make the same test. */
function daysOf(cut: SplitLogs): string {
  const last = ({ practice, runs }: SplitLogs['before']): number =>
    [...practice, ...runs].reduce((latest, { day }) => Math.max(latest, day), -Infinity);
  const compared = comparedRuns(cut).reduce((earliest, { day }) => Math.min(earliest, day), Infinity);
  return [compared, last(cut.before), last(cut.within)].join(' ');
}

/** The runs of the four weeks before the week. */
function comparedRuns({ before, from }: SplitLogs): SplitLogs['before']['runs'] {
  return before.runs.filter(({ day }) => day >= from - comparisonDays);
}

/** Whether it landed less often in the week than in the four weeks before: where it did not, nobody would call it a slip. */
function landedLess(cut: SplitLogs): boolean {
  const [week, earlier] = [sumCounts(cut.within.runs), sumCounts(comparedRuns(cut))];
  return week.landed * earlier.tries < earlier.landed * week.tries;
}

function testWeek(subject: FittedTechnique, prepared: PreparedModel, cut: SplitLogs): UncorrectedTest {
  const { constants } = prepared;
  const days = countsByDay(cut.within.runs);
  const earlier = comparedRuns(cut);
  const counts = { week: sumCounts(cut.within.runs), earlier: sumCounts(earlier) };
  // The prediction includes the week's practice, but must not include the runs themselves.
  const practice = [...cut.before.practice, ...cut.within.practice];
  const { posterior } = fitPart(subject, prepared, { practice, runs: cut.before.runs });
  const level = meanLevelOnDays(subject, prepared, { practice, runs: cut.before.runs }, days);
  const model = predictCount(days, expectedRateDistribution(posterior, level), constants);
  return { ...counts, expected: model.mean, chance: model.midChance };
}

/** Mean level of practice on the mornings of some days of runs, weighted by their tries. */
function meanLevelOnDays(
  { technique }: FittedTechnique,
  { constants }: PreparedModel,
  { practice, runs }: SplitLogs['before'],
  days: ReturnType<typeof countsByDay>,
): number {
  let sum = 0;
  let tries = 0;
  for (const day of days) {
    const before = practice.filter((entry) => entry.day < day.day);
    const history = readHistory(technique, before, runs, constants);
    sum += day.tries * levelOnMorning(history.state, day.day, constants);
    tries += day.tries;
  }
  return tries > 0 ? sum / tries : 0;
}
