/** What a week of practice and runs says about each technique. */
import { chooseCandidates } from '../rank/candidates.ts';
import { practiceSpread } from './practiceSpread.ts';
import type { PracticeSpread } from './practiceSpread.ts';
import {
  chanceRunRateAbove,
  expectationInRun,
  practiceEstimate,
  practiceLogits,
  runEstimate,
} from '../skill/rateEstimates.ts';
import { pressureLossEstimate, difficultyDeviation } from '../skill/curveEstimates.ts';
import { readHistory } from '../skill/practiceHistory.ts';
import { clamp, logit } from '../core/numbers.ts';
import { practiceLevel, stateOnMorning } from '../skill/practiceState.ts';
import { prepareModel } from '../run/preparedModel.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { PreparedModel, RankInput, FittedTechnique } from '../run/preparedModel.ts';
import { rank } from '../rank/rank.ts';
import { runnerEstimate } from '../skill/runnerPosterior.ts';
import { slipTests } from './slipTests.ts';
import type { SlipTest } from './slipTests.ts';
import type { AttemptCount, Estimate, Logs, RankRow, LearningState } from '../core/types.ts';
import { groupByTechnique, splitLogs, sumCounts } from '../skill/splitLogs.ts';
import type { SplitLogs } from '../skill/splitLogs.ts';

export type Verdict = 'competent' | 'slipped' | 'overPractised' | 'tooFewDays' | 'steady' | 'untried';

/** All that was counted of one kind, and the landing rate now. */
export interface ObservedRate extends Estimate, AttemptCount {}

export interface TechniqueReview {
  readonly technique: string;
  readonly state: LearningState;
  readonly practice: ObservedRate;
  readonly run: ObservedRate;
  /** Landed and tried in the week. */
  readonly week: { readonly practice: AttemptCount; readonly run: AttemptCount };
  /** Change of the expected landing rate in a run over the week, by the learning curve: a fraction. */
  readonly trend: number;
  readonly verdict: Verdict;
  readonly breakEven: number | null;
  /** Chance that trying it in runs pays: now, and by what was logged before the week. */
  readonly competentNow: number;
  readonly competentBefore: number;
  /** Null where there were no runs to test. */
  readonly slip: SlipTest | null;
  /** Null where it was not practised in the week. */
  readonly practised:
    | (PracticeSpread & {
        /** Seconds of V that an hour of the week's practice is expected to have gained. */
        readonly gainedPerHour: number;
      })
    | null;
  /** Seconds of V gained per hour of further practice, to its best stop; null where it is not ranked. */
  readonly gainPerHour: number | null;
  /** Why the ranking leaves it out; null where it does not. */
  readonly notRanked: string | null;
  /** Steps of difficulty harder than rated, the runner's offset taken out; null where practice says too little. */
  readonly harder: Estimate | null;
  /** Log odds lost in runs beyond what the runner loses on average; null where counts say too little. */
  readonly losesMore: Estimate | null;
}

export interface Review {
  /** Day numbers of the week's first and last day. */
  readonly from: number;
  readonly to: number;
  /** By id. */
  readonly techniques: readonly TechniqueReview[];
  /** The open technique with the most to gain by practice, as the ranking has it. */
  readonly best: { readonly technique: string; readonly gainPerHour: number } | null;
  readonly tested: number;
  readonly confidence: number;
  readonly runner: { readonly offset: Estimate; readonly pressure: Estimate };
}

/**
 * The rules of a review, each against a number of the model.
 *
 * - `negligible`: practice counts as past its use where the technique is competent and both the last week's practice
 *   and the next blocks gain less per hour than this share of the best that waits.
 * - `crowded`: the share by which the week's practice would have counted for more over the days it could have had.
 * - `known`: landing rate on the first day of practice from which a technique may have been known before.
 * - `tries`: fewest counted tries in practice (and in runs) before either is compared with anything.
 */
export const reviewRules = {
  negligible: 0.1,
  crowded: 0.05,
  known: 0.5,
  tries: { practice: 50, run: 10 },
} as const;

/** Works out a review for the morning asked about: the seven days before it, and what they change. */
export function reviewWeek(input: RankInput, cache?: ModelCache): Review {
  const cut = splitLogs(input.logs, input.asOfDay);
  const now = prepareModel(input, cache);
  const before = prepareModel({ ...input, logs: cut.before, asOfDay: cut.from });
  const all = { ...input, options: { ...input.options, all: true } };
  const ranking = rank(all, cache);
  const rows = new Map(ranking.rows.map((row) => [row.technique, row]));
  const skipped = new Map(ranking.skipped.map((one) => [one.technique, one.reason]));
  const best = bestPractisable(all, now, rows);
  const slips = slipTests(input, cut);
  const offset = runnerEstimate(now.runner, 'offset');
  const pressure = runnerEstimate(now.runner, 'pressure');
  const logs = {
    all: logsByTechnique(input.logs, input.asOfDay),
    week: logsByTechnique(cut.within, input.asOfDay),
  };
  const practiceDays = new Set(cut.within.practice.map(({ day }) => day)).size;

  const techniques = [...now.fittedTechniques].map(([id, subject]): TechniqueReview => {
    const { posterior, technique, logitsNow } = subject;
    const mine = logs.all(id);
    const week = logs.week(id);
    const worth = now.valuer.now(id);
    const edge = worth.breakEven === null ? null : logit(worth.breakEven);
    const competent = (one: FittedTechnique): number =>
      edge === null ? 0 : chanceRunRateAbove(one.posterior, one.logitsNow, edge);
    const levelBefore = levelWithoutWeek(subject, input, cut, now);
    const earlier = practiceLogits(posterior, levelBefore);
    const hours = week.practice.reduce((sum, { minutes }) => sum + minutes, 0) / 60;
    const gained =
      expectationInRun(posterior, logitsNow, worth.saved) - expectationInRun(posterior, earlier, worth.saved);
    const practised =
      week.practice.length === 0
        ? null
        : {
            ...practiceSpread(week.practice, practiceDays, subject.history.pace, now.constants),
            gainedPerHour: hours > 0 ? Math.max(0, gained) / hours : 0,
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
      breakEven: worth.breakEven,
      competentNow: competent(subject),
      competentBefore: competent(before.fittedTechniques.get(id) ?? subject),
      slip: slips.get(id) ?? null,
      practised,
      gainPerHour: rows.get(id)?.gainPerHour ?? null,
      notRanked: skipped.get(id) ?? null,
      harder: excessDifficulty(subject, mine, offset.mean, now),
      losesMore: excessLoss(subject, practice, run, pressure.mean),
    };
    return { ...facts, verdict: verdictOf(facts, best, input) };
  });
  return {
    from: cut.from,
    to: input.asOfDay - 1,
    techniques,
    best,
    tested: slips.size,
    confidence: clamp(input.options.confidence, 0, 1),
    runner: { offset, pressure },
  };
}

type ReviewFacts = Omit<TechniqueReview, 'verdict'>;

function verdictOf(facts: ReviewFacts, best: Review['best'], { options }: RankInput): Verdict {
  const { practice, run, slip, practised, gainPerHour } = facts;
  if (practice.tries + run.tries === 0 && practised === null) return 'untried';
  if (slip?.slipped) return 'slipped';
  const competent = facts.breakEven !== null && facts.competentNow >= options.confidence;
  if (competent && practised !== null && best !== null && best.technique !== facts.technique) {
    const little = reviewRules.negligible * best.gainPerHour;
    if (practised.gainedPerHour < little && (gainPerHour ?? 0) < little) return 'overPractised';
  }
  if (competent) return 'competent';
  if (
    practised !== null &&
    practised.days < practised.possibleDays &&
    practised.wouldCount >= reviewRules.crowded
  )
    return 'tooFewDays';
  return 'steady';
}

/** A technique's entries up to a day. */
function logsByTechnique(logs: Logs, asOfDay: number): (id: string) => Logs {
  const until = ({ day }: { readonly day: number }): boolean => day <= asOfDay;
  const practice = groupByTechnique(logs.practice.filter(until));
  const runs = groupByTechnique(logs.runs.filter(until));
  return (id) => ({ practice: practice.get(id) ?? [], runs: runs.get(id) ?? [] });
}

/** The technique with the most to gain that can be practised now. */
function bestPractisable(
  input: RankInput,
  prepared: PreparedModel,
  rows: ReadonlyMap<string, RankRow>,
): Review['best'] {
  let best: Review['best'] = null;
  for (const { id, openNeeds } of chooseCandidates(input, prepared, prepared.valuer).candidates) {
    const gainPerHour = rows.get(id)?.gainPerHour ?? 0;
    if (openNeeds.length === 0 && gainPerHour > (best?.gainPerHour ?? 0))
      best = { technique: id, gainPerHour };
  }
  return best;
}

/** The level of practice today had the technique been left alone for the week. */
function levelWithoutWeek(
  { technique }: FittedTechnique,
  input: RankInput,
  { before }: SplitLogs,
  { constants }: PreparedModel,
): number {
  const mine = (entry: { technique: string }): boolean => entry.technique === technique.id;
  const { state } = readHistory(technique, before.practice.filter(mine), before.runs.filter(mine), constants);
  return practiceLevel(stateOnMorning(state, input.asOfDay, constants).effective, constants);
}

/** Whether the difficulty was well guessed: only where practice was counted from the beginning. */
function excessDifficulty(
  { posterior, technique }: FittedTechnique,
  { practice, runs }: Logs,
  offset: number,
  { constants }: PreparedModel,
): Estimate | null {
  if (sumCounts(practice).tries < reviewRules.tries.practice) return null;
  const firstRun = runs.reduce((first, { day }) => Math.min(first, day), Infinity);
  const firstPractice = practice.reduce((first, { day }) => Math.min(first, day), Infinity);
  // What was in runs before it was practised, or landed well from the first day on, may have been learned before the
  // logs began: how much practice it took is not known.
  const first = sumCounts(practice.filter(({ day }) => day === firstPractice));
  if (firstRun <= firstPractice || first.tries === 0 || first.landed >= reviewRules.known * first.tries)
    return null;
  return difficultyDeviation(posterior, technique.difficulty, offset, constants);
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
