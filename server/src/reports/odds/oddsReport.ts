import { formatDate } from '../../text/calendar.ts';
import type { Odds } from '../../model/run/odds.ts';
import { difference, orNull, seconds, share } from '../rounding.ts';

/** The odds of a run with what they stand on: `odds --json` prints it and the editor shows it. Times in seconds. */
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
> {
  /** Date of the morning on which the question is asked. */
  readonly asOf: string;
  /** Whose the time of each segment is: as the runs have it, as the week file, or as the route. */
  readonly segmentTimes: readonly SegmentSource[];
}

export interface SegmentSource {
  readonly segment: string;
  readonly from: 'runs' | 'week' | 'route';
  /** Runs with a time of this segment that could be used. */
  readonly runs: number;
}

/** @param asOfDay day number of the question */
export function oddsReport(odds: Odds, asOfDay: number, segmentTimes: readonly SegmentSource[]): OddsReport {
  const { finalTime, clockPerFinish, finishChance, target, chance, quantiles } = odds;
  const { perHour, bestAfter, resetLine, uses } = odds;
  return {
    asOf: formatDate(asOfDay),
    ...{ finalTime, clockPerFinish, finishChance, target, chance, quantiles },
    ...{ perHour, bestAfter, resetLine, uses, segmentTimes },
  };
}

/** The report with its keys in a fixed order and its numbers rounded. */
export function oddsJson(report: OddsReport): OddsReport {
  const { p10, p50, p90 } = report.quantiles;
  return {
    asOf: report.asOf,
    finalTime: seconds(report.finalTime),
    clockPerFinish: orNull(seconds, report.clockPerFinish),
    finishChance: share(report.finishChance),
    target: report.target,
    chance: orNull(share, report.chance),
    quantiles: { p10: seconds(p10), p50: seconds(p50), p90: seconds(p90) },
    perHour: report.perHour && {
      line: difference(report.perHour.line),
      never: difference(report.perHour.never),
    },
    bestAfter: report.bestAfter.map(({ runs, mean }) => ({ runs, mean: seconds(mean) })),
    resetLine: report.resetLine.map(({ segment, time }) => ({ segment, time: orNull(seconds, time) })),
    uses: report.uses,
    segmentTimes: report.segmentTimes.map(({ segment, from, runs }) => ({ segment, from, runs })),
  };
}
