import { formatDate } from '../../text/calendar.ts';
import type { Odds } from '../../model/run/odds.ts';
import { practiseOrRunJson, type PractiseOrRunReport } from './practiseOrRunReport.ts';
import { roundDifference, roundFigures, roundOrNull, roundSeconds, roundShare } from '../rounding.ts';

/** Why a route without segments has no odds. */
export const noSegmentsMessage =
  'The route has no segment yet, so the odds of a run cannot be worked out. Write its segments with their times under segments: first.';

/** The odds of a run and what they are based on: `odds --json` prints it and the editor shows it. Times in seconds. */
export interface OddsReport extends Pick<
  Odds,
  | 'finalTime'
  | 'clockPerFinish'
  | 'finishChance'
  | 'target'
  | 'chance'
  | 'quantiles'
  | 'perHour'
  | 'bestAfter'
  | 'resetLine'
  | 'uses'
  | 'form'
> {
  /** Date of the morning that it is for. */
  readonly asOf: string;
  /** Where the time of each segment comes from: the runs, the week file or the route. */
  readonly segmentTimes: readonly SegmentSource[];
  /** How to divide the hours left; null without a target or a plan. */
  readonly practiseOrRun: PractiseOrRunReport | null;
}

export interface SegmentSource {
  readonly segment: string;
  readonly from: 'runs' | 'week' | 'route';
  /** Runs with a time of this segment that could be used. */
  readonly runs: number;
}

/** @param asOfDay day number of the morning that it is for */
export function oddsReport(
  odds: Odds,
  asOfDay: number,
  segmentTimes: readonly SegmentSource[],
  practiseOrRun: PractiseOrRunReport | null,
): OddsReport {
  const { finalTime, clockPerFinish, finishChance, target, chance, quantiles } = odds;
  const { perHour, bestAfter, form, resetLine, uses } = odds;
  return {
    asOf: formatDate(asOfDay),
    ...{ finalTime, clockPerFinish, finishChance, target, chance, quantiles },
    ...{ perHour, bestAfter, form, resetLine, uses, segmentTimes, practiseOrRun },
  };
}

/** The report with its keys in a fixed order and its numbers rounded. */
export function oddsJson(report: OddsReport): OddsReport {
  const { p10, p50, p90 } = report.quantiles;
  return {
    asOf: report.asOf,
    finalTime: roundSeconds(report.finalTime),
    clockPerFinish: roundOrNull(roundSeconds, report.clockPerFinish),
    finishChance: roundShare(report.finishChance),
    target: report.target,
    chance: roundOrNull(roundShare, report.chance),
    quantiles: { p10: roundSeconds(p10), p50: roundSeconds(p50), p90: roundSeconds(p90) },
    perHour: report.perHour && {
      line: roundDifference(report.perHour.line),
      never: roundDifference(report.perHour.never),
    },
    bestAfter: report.bestAfter.map(({ runs, mean }) => ({ runs, mean: roundSeconds(mean) })),
    form: report.form && formJson(report.form),
    resetLine: report.resetLine.map(({ segment, time }) => ({
      segment,
      time: roundOrNull(roundSeconds, time),
    })),
    uses: report.uses,
    segmentTimes: report.segmentTimes.map(({ segment, from, runs }) => ({ segment, from, runs })),
    practiseOrRun: report.practiseOrRun && practiseOrRunJson(report.practiseOrRun),
  };
}

function formJson({ spread, days, seconds, finishedPerDay }: NonNullable<OddsReport['form']>) {
  const { mean, low, high } = spread;
  return {
    spread: { mean: roundShare(mean), low: roundShare(low), high: roundShare(high) },
    days,
    seconds: roundSeconds(seconds),
    finishedPerDay: roundFigures(finishedPerDay),
  };
}
