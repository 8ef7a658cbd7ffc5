import type { PracticePoint } from '../../model/rank/rateCurve.ts';
import { formatMinutes, formatPercent, formatPercentRange } from '../../text/format.ts';
import { formatDate } from '../../text/calendar.ts';

/** Bars of one to eight eighths of the full height. */
const bars = '▁▂▃▄▅▆▇█';

/** The largest number of past weeks that are drawn. */
const maxPastWeeks = 12;

/**
 * The landing rate of a technique in practice, week by week, as a row of bars and in words; the words say the same to a
 * person who cannot see the bars. A full bar is a rate of 100 %, and the forecast follows after the line.
 *
 * @param minutes length of the daily block that the forecast assumes
 */
export function curveText(points: readonly PracticePoint[], minutes: number): string {
  const past = points.filter(({ ahead }) => !ahead);
  const ahead = points.filter((point) => point.ahead);
  const today = past.at(-1);
  const end = ahead.at(-1);
  if (!today || !end) return '';
  const before = weeksBack(past, today);
  const after = ahead.filter(({ day }) => day > today.day && (day - today.day) % 7 === 0);
  const first = before[0]!;
  const drawn = `${before.map(barOf).join('')}│${after.map(barOf).join('')}`;
  const dates =
    first === today ? ['today', formatDate(end.day)] : [formatDate(first.day), formatDate(end.day)];
  const from = first === today ? '' : `${formatPercent(first.practice.mean)} on ${formatDate(first.day)}, `;
  const then = `${formatPercent(end.practice.mean)} (${formatPercentRange(end.practice)}) by ${formatDate(end.day)} with a block of ${formatMinutes(minutes)} a day`;
  return [
    '```text',
    `${dates[0]} ${drawn} ${dates[1]}`,
    '```',
    `In practice: ${from}${formatPercent(today.practice.mean)} today; ${then}.`,
  ].join('\n');
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

function barOf({ practice: { mean } }: PracticePoint): string {
  return bars[Math.min(bars.length - 1, Math.floor(mean * bars.length))]!;
}
