/** Reviews each technique from a week of practice and runs. */
import { inOneGo, mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { chooseCandidatesInSteps } from '../rank/candidates.ts';
import { blockCourseInSteps } from './blockCourse.ts';
import type { BlockCourse } from './blockCourse.ts';
import { practiceSpread } from './practiceSpread.ts';
import type { PracticeSpread } from './practiceSpread.ts';
import { verdictOf } from './verdict.ts';
import type { Verdict } from './verdict.ts';
import {
  chanceRunRateAbove,
  expectationInRun,
  practiceEstimate,
  practiceLogits,
  runEstimate,
} from '../skill/rateEstimates.ts';
import { pressureLossEstimate, difficultyDeviation } from '../skill/curveEstimates.ts';
import { midwayMean } from '../skill/slotPrior.ts';
import { readHistory } from '../skill/practiceHistory.ts';
import { clamp, logit } from '../core/numbers.ts';
import { levelOnMorning } from '../skill/practiceState.ts';
import { prepareModelInSteps } from '../run/preparedModel.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { PreparedModel, RankInput, FittedTechnique } from '../run/preparedModel.ts';
import { rankInSteps } from '../rank/rank.ts';
import { runnerSummary } from '../run/runnerSummary.ts';
import { slipTests } from '../standing/slipTests.ts';
import type { SlipTest, Standing } from '../core/standing.ts';
import type { AttemptCount, Estimate, Logs, LearningState } from '../core/types.ts';
import type { RunnerSummary, RankRow } from '../core/results.ts';
import { groupByTechnique, splitLogs, sumCounts } from '../skill/splitLogs.ts';
import type { SplitLogs } from '../skill/splitLogs.ts';

/** All counts in practice or in runs, and the landing rate now. */
export interface ObservedRate extends Estimate, AttemptCount {}

export interface TechniqueReview {
  readonly technique: string;
  readonly state: LearningState;
  readonly practice: ObservedRate;
  readonly run: ObservedRate;
  /** Counts of the week: landed and tries. */
  readonly week: { readonly practice: AttemptCount; readonly run: AttemptCount };
  /** Change of the expected landing rate in a run over the week, from the learning curve; a difference of fractions. */
  readonly trend: number;
  readonly standing: Standing;
  /** Follows from the standing. */
  readonly verdict: Verdict;
  readonly breakEven: number | null;
  /** Chance that trying it in runs pays: now, as in the standing, and as it was from the logs before the week. */
  readonly competentNow: number;
  readonly competentBefore: number;
  /** Null if there were no runs to test. */
  readonly slip: SlipTest | null;
  /** Null if it was not practised in the week. */
  readonly practised:
    | (PracticeSpread & {
        /** Expected gain per hour of the week's practice, seconds of V. */
        readonly gainedPerHour: number;
        /** Whether it is in the run, and neither the week's practice nor more of it gains much. */
        readonly pastUse: boolean;
        /** Whether the same practice on more days would have counted for noticeably more. */
        readonly crowded: boolean;
      })
    | null;
  /** Seconds of V gained per hour of further practice, up to the best stopping point; null if it is not ranked. */
  readonly gainPerHour: number | null;
  /** Why it is not ranked; null if it is. */
  readonly notRanked: string | null;
  /**
   * By how many steps of difficulty it is harder than its rating, apart from the runner's own offset; null if there
   * is not enough practice to say.
   */
  readonly harder: Estimate | null;
  /**
   * Log odds that it loses in runs in addition to the runner's average loss; null if there are not enough counts to
   * say.
   */
  readonly losesMore: Estimate | null;
}

export interface Review {
  /** Where each technique stands, in order of id. */
  readonly standings: readonly Standing[];
  /** Day numbers of the week's first and last day. */
  readonly from: number;
  readonly to: number;
  /** In order of id. */
  readonly techniques: readonly TechniqueReview[];
  /** The technique with the greatest gain per hour in the ranking, among those that can be practised now. */
  readonly best: { readonly technique: string; readonly gainPerHour: number } | null;
  readonly tested: number;
  readonly confidence: number;
  readonly runner: RunnerSummary;
  /** How a block goes from its first try to its last; null where none was logged try by try. */
  readonly blockCourse: BlockCourse | null;
}

/**
 * The thresholds of a review.
 *
 * - `negligible`: further practice counts as no longer useful if the technique is in the run and both the last week's
 *   practice and the next blocks gain less per hour than this share of the gain of the best other technique.
 * - `crowded`: the week's practice counts as crowded if it would have been more effective by at least this share
 *   when spread over the possible days.
 * - `known`: a technique with at least this landing rate on the first day of practice may have been learned before
 *   the logs began.
 * - `tries`: fewest counted tries in practice (and in runs) that are needed for a comparison.
 */
export const reviewRules = {
  negligible: 0.1,
  crowded: 0.05,
  known: 0.5,
  tries: { practice: 50, run: 10 },
} as const;

/** Reviews the seven days before the morning of `asOfDay`, and what they changed. */
export const reviewWeek = inOneGo(reviewWeekInSteps);

/** The same in steps. */
export function* reviewWeekInSteps(input: RankInput, cache?: ModelCache): Steps<Review> {
  const cut = splitLogs(input.logs, input.asOfDay);
  const now = yield* prepareModelInSteps(input, cache);
  const before = yield* prepareModelInSteps({ ...input, logs: cut.before, asOfDay: cut.from });
  const all = { ...input, options: { ...input.options, all: true } };
  const ranking = yield* rankInSteps(all, cache);
  const rows = new Map(ranking.rows.map((row) => [row.technique, row]));
  const skipped = new Map(ranking.skipped.map((one) => [one.technique, one.reason]));
  const { standings: inOrder } = ranking;
  const standings = new Map(inOrder.map((standing) => [standing.technique, standing]));
  const best = yield* bestPractisable(all, now, rows, standings);
  const slips = slipTests(now, input.asOfDay);
  const runner = runnerSummary(now);
  const { offset, pressure } = runner;
  const inWeek = {
    practice: groupByTechnique(cut.within.practice),
    runs: groupByTechnique(cut.within.runs),
  };
  const course = yield* blockCourseInSteps(input.logs.practice, now.shared);
  const practiceDays = new Set(cut.within.practice.map(({ day }) => day)).size;

  const techniques = yield* mapInSteps(now.fittedTechniques, ([id, subject]): TechniqueReview => {
    const { posterior, technique, logitsNow } = subject;
    const { log: mine } = subject;
    const week = { practice: inWeek.practice.get(id) ?? [], runs: inWeek.runs.get(id) ?? [] };
    const standing = standings.get(id)!;
    const { breakEven } = standing;
    const earlierSelf = before.fittedTechniques.get(id) ?? subject;
    const worth = now.valuer.now(id);
    const gainPerHour = rows.get(id)?.gainPerHour ?? null;
    const levelBefore = levelWithoutWeek(subject, input, cut, now);
    const earlier = practiceLogits(posterior, levelBefore);
    const hours = week.practice.reduce((sum, { minutes }) => sum + minutes, 0) / 60;
    const gained =
      expectationInRun(posterior, logitsNow, worth.saved) - expectationInRun(posterior, earlier, worth.saved);
    const gainedPerHour = hours > 0 ? Math.max(0, gained) / hours : 0;
    const spread = practiceSpread(week.practice, practiceDays, subject.history.pace, now.constants);
    const practised =
      week.practice.length === 0
        ? null
        : {
            ...spread,
            gainedPerHour,
            pastUse: isPastUse(standing, { gainedPerHour, gainPerHour }, best),
            crowded: spread.days < spread.possibleDays && spread.wouldCount >= reviewRules.crowded,
          };
    const practice = { ...practiceEstimate(posterior, logitsNow), ...sumCounts(mine.practice) };
    const run = { ...runEstimate(posterior, logitsNow, now.rates), ...sumCounts(mine.runs) };
    const facts = {
      technique: id,
      state: technique.state,
      practice,
      run,
      week: { practice: sumCounts(week.practice), run: sumCounts(week.runs) },
      trend: run.mean - expectationInRun(posterior, earlier, now.rates),
      standing,
      breakEven,
      competentNow: standing.chancePays,
      competentBefore:
        breakEven === null
          ? 0
          : chanceRunRateAbove(earlierSelf.posterior, earlierSelf.logitsNow, logit(breakEven)),
      slip: slips.test(id),
      practised,
      gainPerHour,
      notRanked: skipped.get(id) ?? null,
      harder: excessDifficulty(subject, mine, offset.mean, now),
      losesMore: excessLoss(subject, practice, run, pressure.mean),
    };
    return { ...facts, verdict: verdictOf(facts) };
  });
  return {
    standings: inOrder,
    from: cut.from,
    to: input.asOfDay - 1,
    techniques,
    best,
    tested: slips.tested.length,
    confidence: clamp(input.options.confidence, 0, 1),
    runner,
    blockCourse: course,
  };
}

/** Whether a technique in the run was practised on although that gains little against the best other technique. */
function isPastUse(
  { technique, kind }: Standing,
  gains: { readonly gainedPerHour: number; readonly gainPerHour: number | null },
  best: Review['best'],
): boolean {
  if (kind !== 'in-run' || best === null || best.technique === technique) return false;
  const little = reviewRules.negligible * best.gainPerHour;
  return gains.gainedPerHour < little && (gains.gainPerHour ?? 0) < little;
}

/** The technique with the greatest gain per hour that can be practised now. */
function* bestPractisable(
  input: RankInput,
  prepared: PreparedModel,
  rows: ReadonlyMap<string, RankRow>,
  standings: ReadonlyMap<string, Standing>,
): Steps<Review['best']> {
  let best: Review['best'] = null;
  const { candidates } = yield* chooseCandidatesInSteps(input, prepared, prepared.valuer, standings);
  for (const { id, openNeeds } of candidates) {
    const gainPerHour = rows.get(id)?.gainPerHour ?? 0;
    if (openNeeds.length === 0 && gainPerHour > (best?.gainPerHour ?? 0))
      best = { technique: id, gainPerHour };
  }
  return best;
}

/** The level of practice today if the technique had not been practised in the week. */
function levelWithoutWeek(
  { technique }: FittedTechnique,
  input: RankInput,
  { before }: SplitLogs,
  { constants }: PreparedModel,
): number {
  const mine = (entry: { technique: string }): boolean => entry.technique === technique.id;
  const { state } = readHistory(technique, before.practice.filter(mine), before.runs.filter(mine), constants);
  return levelOnMorning(state, input.asOfDay, constants);
}

/**
 * By how many steps the technique is harder than its rated difficulty; only if its practice was counted from the
 * beginning.
 */
function excessDifficulty(
  { posterior, technique }: FittedTechnique,
  { practice, runs }: Logs,
  offset: number,
  { constants, scaled }: PreparedModel,
): Estimate | null {
  if (sumCounts(practice).tries < reviewRules.tries.practice) return null;
  const firstRun = runs.reduce((first, { day }) => Math.min(first, day), Infinity);
  const firstPractice = practice.reduce((first, { day }) => Math.min(first, day), Infinity);
  // A technique that was in runs before it was practised, or landed well from the first day on, may have been
  // learned before the logs began. Then it is not known how much practice it needed.
  const first = sumCounts(practice.filter(({ day }) => day === firstPractice));
  if (firstRun <= firstPractice || first.tries === 0 || first.landed >= reviewRules.known * first.tries)
    return null;
  const expected = midwayMean({ difficulty: technique.difficulty }, offset, scaled);
  return difficultyDeviation(posterior, expected, constants.midwayPerStep);
}

function excessLoss(
  { posterior }: FittedTechnique,
  practice: AttemptCount,
  run: AttemptCount,
  pressure: number,
): Estimate | null {
  if (practice.tries < reviewRules.tries.practice || run.tries < reviewRules.tries.run) return null;
  const { mean, low, high } = pressureLossEstimate(posterior);
  return { mean: mean - pressure, low: low - pressure, high: high - pressure };
}
