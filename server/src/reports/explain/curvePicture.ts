import type { PracticePoint } from '../../model/rank/rateCurve.ts';
import { formatDate } from '../../text/calendar.ts';
import { formatMinutes, formatPercent, formatPercentRange } from '../../text/format.ts';

/** The largest number of past weeks that are drawn. */
const maxPastWeeks = 12;

/** The landing rate of a technique in practice, week by week: as shares to draw, and in words. */
export interface CurvePicture {
  /** A date, or `today` where there is no past. */
  readonly from: string;
  /** Landing rates of the past weeks and of this morning, then those of the forecast; 0 to 1. */
  readonly before: readonly number[];
  readonly after: readonly number[];
  readonly to: string;
  /** The same for a person who cannot see the picture. */
  readonly sentence: string;
}

/**
 * The picture of a curve; undefined where the curve has no point of today.
 *
 * @param minutes length of the daily block that the forecast assumes
 */
export function curvePicture(points: readonly PracticePoint[], minutes: number): CurvePicture | undefined {
  const past = points.filter(({ ahead }) => !ahead);
  const ahead = points.filter((point) => point.ahead);
  const today = past.at(-1);
  const end = ahead.at(-1);
  if (!today || !end) return undefined;
  const before = weeksBack(past, today);
  const after = ahead.filter(({ day }) => day > today.day && (day - today.day) % 7 === 0);
  const first = before[0]!;
  const from = first === today ? '' : `${formatPercent(first.practice.mean)} on ${formatDate(first.day)}, `;
  const then = `${formatPercent(end.practice.mean)} (${formatPercentRange(end.practice)}) by ${formatDate(end.day)} with a block of ${formatMinutes(minutes)} a day`;
  return {
    from: first === today ? 'today' : formatDate(first.day),
    before: before.map(({ practice }) => practice.mean),
    after: after.map(({ practice }) => practice.mean),
    to: formatDate(end.day),
    sentence: `In practice: ${from}${formatPercent(today.practice.mean)} today; ${then}.`,
  };
}

/** The points of this morning and of the mornings a whole number of weeks before it. */
function weeksBack(past: readonly PracticePoint[], today: PracticePoint): PracticePoint[] {
  const found: PracticePoint[] = [];
  for (let week = maxPastWeeks; week > 0; week--) {
    const point = past.findLast(({ day }) => day <= today.day - 7 * week);
    if (point && point !== found.at(-1)) found.push(point);
  }
  return [...found, today];
}
