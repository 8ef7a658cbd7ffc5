import type { AttemptCount } from '../../model/core/types.ts';
import type { StandingReport } from '../../protocol/standing.ts';
import { formatDate } from '../../text/calendar.ts';
import { roundDifference, roundFigures, roundOrNull, roundSeconds, roundShare } from '../rounding.ts';
import type { CountedRate, ProgressReport, RateHistory } from './progressReport.ts';

/**
 * What `progress --json` prints: keys in a fixed order, numbers rounded. Rates are fractions, `minutes` minutes and
 * times seconds; each list `points` and `minutes` has an entry for each of `periods`. Where nothing is logged, the lists
 * are empty.
 */
export function progressJson(
  report: ProgressReport | undefined,
  asOfDay: number,
  standings: readonly StandingReport[],
) {
  const asOf = formatDate(asOfDay);
  if (report === undefined)
    return { asOf, unit: null, periods: [], techniques: [], times: null, practice: null, standings };
  const { unit, periods, techniques, times, practice } = report;
  return {
    asOf,
    unit,
    periods: periods.map(({ from, to }) => ({ from: formatDate(from), to: formatDate(to) })),
    techniques: techniques.map((one) => ({
      technique: one.technique,
      practice: historyJson(one.practice),
      run: historyJson(one.run),
      minutes: one.minutes.map(roundFigures),
      shownMinutes: roundFigures(one.shownMinutes),
      allMinutes: roundFigures(one.allMinutes),
    })),
    times: {
      target: roundOrNull(roundSeconds, times.target),
      best: times.best && { start: times.best.start, seconds: roundSeconds(times.best.seconds) },
      bestBefore: roundOrNull(roundSeconds, times.bestBefore),
      finished: times.finished,
      finishedShown: times.finishedInPeriods,
      records: times.records.map(({ start, seconds, fasterBy }) => ({
        start,
        seconds: roundSeconds(seconds),
        fasterBy: roundOrNull(roundDifference, fasterBy),
      })),
      runs: times.runs.map(({ start, seconds, bestSoFar }) => ({
        start,
        seconds: roundSeconds(seconds),
        bestSoFar: roundSeconds(bestSoFar),
      })),
    },
    practice: {
      hoursAWeek: practice.byPeriod.map(({ hoursAWeek }) => roundFigures(hoursAWeek)),
      minutes: practice.byPeriod.map(({ minutes }) => roundFigures(minutes)),
      shownMinutes: roundFigures(practice.shownMinutes),
      allMinutes: roundFigures(practice.allMinutes),
    },
    standings,
  };
}

interface RateJson extends AttemptCount {
  readonly rate: number;
  readonly low: number | null;
  readonly high: number | null;
}

function historyJson({ points, shown }: RateHistory) {
  return { shown: rateJson(shown), points: points.map(rateJson) };
}

function rateJson(counted: CountedRate | null): RateJson | null {
  if (counted === null) return null;
  const { landed, tries, rate, range } = counted;
  return {
    landed,
    tries,
    rate: roundShare(rate),
    low: range && roundShare(range.low),
    high: range && roundShare(range.high),
  };
}
