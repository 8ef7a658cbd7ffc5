/** Dates as calendar days since 1970-01-01, in which gaps and nights are counted. They do not depend on a time zone. */
const momentPattern = /^(\d{4})-(\d{2})-(\d{2})(?:[T ](\d{2}):(\d{2})(?::(\d{2}))?)?$/;

/** Minutes of a day. */
export const minutesPerDay = 24 * 60;

/** The years that a date may have; any other is a slip, and further on a year has more digits than four. */
export const knownYears = { first: 1970, last: 2999 } as const;

/** Reads `2026-10-05` or `2026-10-05T19:30`; undefined where there is no such day or time in the known years. */
export function parseMoment(text: string): Moment | undefined {
  const match = momentPattern.exec(text);
  if (!match) return undefined;
  const [year, month, day, hour, minute, second] = match
    .slice(1)
    .map((part) => (part === undefined ? undefined : Number(part)));
  if (year! < knownYears.first || year! > knownYears.last) return undefined;
  const date = Math.round(Date.UTC(year!, month! - 1, day) / 86_400_000);
  if (formatDate(date) !== text.slice(0, 10)) return undefined;
  if (hour === undefined) return { date, minute: undefined };
  if (hour > 23 || minute! > 59 || (second ?? 0) > 59) return undefined;
  return { date, minute: hour * 60 + minute! + (second ?? 0) / 60 };
}

/**
 * `2026-10-05` of a day number.
 *
 * @example
 * formatDate(0) // '1970-01-01'
 */
export function formatDate(date: number): string {
  return new Date(date * 86_400_000).toISOString().slice(0, 10);
}

const weekdays = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];

/**
 * A day number with its weekday, as people read it in plans and charts.
 *
 * @example
 * formatWeekday(0) // 'Thu 1970-01-01'
 */
export function formatWeekday(day: number): string {
  // 1970-01-01 was a Thursday.
  return `${weekdays[(((day + 4) % 7) + 7) % 7]!} ${formatDate(day)}`;
}

/**
 * A moment as it is written in a log, without seconds.
 *
 * @example
 * formatMoment({ date: 0, minute: 570 }) // '1970-01-01T09:30'
 * formatMoment({ date: 0, minute: undefined }) // '1970-01-01'
 */
export function formatMoment({ date, minute }: Moment): string {
  if (minute === undefined) return formatDate(date);
  const two = (value: number): string => String(Math.floor(value)).padStart(2, '0');
  return `${formatDate(date)}T${two(minute / 60)}:${two(minute % 60)}`;
}

/** Minutes after midnight of a time of day such as `04:00`. */
export function parseTimeOfDay(text: string): number {
  const [hours, minutes] = text.split(':').map(Number);
  return (hours ?? 0) * 60 + (minutes ?? 0);
}

/**
 * The day, as the runner counts days, that a moment belongs to: what is practised before `dayStarts` (minutes after
 * midnight) belongs to the day before. A bare date is that day.
 */
export function runnerDayOf(moment: Moment, dayStarts: number): number {
  return moment.minute !== undefined && moment.minute < dayStarts ? moment.date - 1 : moment.date;
}

/** Orders moments from early to late; a bare date comes before the times of its day. */
export function compareMoments(a: Moment, b: Moment): number {
  return a.date - b.date || (a.minute ?? 0) - (b.minute ?? 0);
}

/** A date and time on the runner's own clock. */
export interface Moment {
  /** Days since 1970-01-01 by the calendar. */
  readonly date: number;
  /** Minutes after midnight; undefined where only a date is written. */
  readonly minute: number | undefined;
}
