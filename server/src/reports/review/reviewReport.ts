import { nameLookup } from '../../queries/names.ts';
import { nameTechniques } from '../techniqueNames.ts';
import { formatDate } from '../../text/calendar.ts';
import type { Review, ObservedRate, TechniqueReview } from '../../model/review/reviewWeek.ts';
import { familywiseErrorRate } from '../../model/standing/countPrediction.ts';
import type { StandingReport } from '../../protocol/standing.ts';
import { standingReports } from '../standingReports.ts';
import type { Estimate } from '../../model/core/types.ts';
import { reviewReason } from './reviewReason.ts';
import {
  roundDifference,
  roundEstimate,
  roundFigures,
  roundOrNull,
  roundShare,
  roundRunner,
} from '../rounding.ts';

/** A review and what it is based on: `review --json` prints it and the editor shows it. */
export interface ReviewReport extends Omit<Review, 'from' | 'to' | 'techniques' | 'standings'> {
  readonly standings: readonly StandingReport[];
  readonly asOf: string;
  /** First and last date of the reviewed week. */
  readonly week: { readonly from: string; readonly to: string };
  /** Chance that a review reports a slip where there is none. */
  readonly falseAlarms: number;
  readonly techniques: readonly ReviewRow[];
}

export interface ReviewRow extends TechniqueReview {
  /** Where it stands in one sentence, and what the week adds to that. */
  readonly reason: string;
  /** The difficulty that fits the counts, where the written one is far from it; else null. */
  readonly suggestedDifficulty: number | null;
}

/** The names and difficulties that a report needs. */
export interface ReviewNames {
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
  /** The difficulty written for each. */
  readonly difficulties: ReadonlyMap<string, number>;
}

export function reviewReport(review: Review, { names, difficulties }: ReviewNames): ReviewReport {
  const { from, to, techniques, standings, ...rest } = review;
  const nameOf = nameLookup(names);
  return {
    asOf: formatDate(to + 1),
    week: { from: formatDate(from), to: formatDate(to) },
    falseAlarms: familywiseErrorRate,
    ...rest,
    standings: standingReports(standings, names),
    techniques: techniques.map((one) => ({
      ...one,
      reason: nameTechniques(reviewReason(one, review, nameOf), names),
      suggestedDifficulty: suggestion(one, difficulties.get(one.technique)),
    })),
  };
}

/** The difficulty to suggest; null where the written one is not far enough off. The thresholds are below. */
function suggestion({ harder }: TechniqueReview, written: number | undefined): number | null {
  if (harder === null || written === undefined || !farOff(harder)) return null;
  const fitting = Math.min(10, Math.max(1, Math.round(written + harder.mean)));
  return fitting === Math.round(written) ? null : fitting;
}

/**
 * A difficulty is suggested where its mean differs from the written one by the first number of steps, and nearly all of
 * its range by the second.
 */
const farSteps = 2;
const nearestStep = 1;

function farOff({ mean, low, high }: Estimate): boolean {
  return Math.abs(mean) >= farSteps && (low > nearestStep || high < -nearestStep);
}

/** What `review --json` prints: keys in a fixed order, numbers rounded. */
export function reviewJson(report: ReviewReport) {
  return {
    asOf: report.asOf,
    week: report.week,
    falseAlarms: report.falseAlarms,
    tested: report.tested,
    confidence: report.confidence,
    best: report.best && {
      technique: report.best.technique,
      gainPerHour: roundFigures(report.best.gainPerHour),
    },
    techniques: report.techniques.map((row) => ({
      technique: row.technique,
      practice: roundObservedRate(row.practice),
      run: roundObservedRate(row.run),
      trend: roundShare(row.trend),
      verdict: row.verdict,
      reason: row.reason,
      state: row.state,
      week: row.week,
      breakEven: roundOrNull(roundShare, row.breakEven),
      competentBefore: roundShare(row.competentBefore),
      competentNow: roundShare(row.competentNow),
      slip: row.slip && {
        week: row.slip.week,
        earlier: row.slip.earlier,
        expected: roundFigures(row.slip.expected),
        chance: roundFigures(row.slip.chance),
        slipped: row.slip.slipped,
      },
      practised: row.practised && {
        minutes: roundFigures(row.practised.minutes),
        blocks: row.practised.blocks,
        days: row.practised.days,
        possibleDays: row.practised.possibleDays,
        wouldCount: roundShare(row.practised.wouldCount),
        gainedPerHour: roundFigures(row.practised.gainedPerHour),
        pastUse: row.practised.pastUse,
        crowded: row.practised.crowded,
      },
      gainPerHour: roundOrNull(roundFigures, row.gainPerHour),
      notRanked: row.notRanked,
      stepsHarder: row.harder && roundEstimate(row.harder, roundDifference),
      suggestedDifficulty: row.suggestedDifficulty,
      losesMore: row.losesMore && roundEstimate(row.losesMore, roundDifference),
    })),
    standings: report.standings,
    runner: roundRunner(report.runner),
    blockCourse: report.blockCourse && {
      ...report.blockCourse,
      chanceColdStart: roundShare(report.blockCourse.chanceColdStart),
      firstTryLacks: roundShare(report.blockCourse.firstTryLacks),
      chanceTiring: roundShare(report.blockCourse.chanceTiring),
    },
  };
}

function roundObservedRate({ landed, tries, mean, low, high }: ObservedRate): ObservedRate {
  return { landed, tries, mean: roundShare(mean), low: roundShare(low), high: roundShare(high) };
}
