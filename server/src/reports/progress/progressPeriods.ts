import { formatDate } from '../../text/calendar.ts';
import { firstDayOf, monthOf } from '../../text/months.ts';

/** A stretch of whole days whose entries are counted together. */
export interface Period {
  /** Day numbers of its first and its last day. */
  readonly from: number;
  readonly to: number;
  /** `week of 2026-10-05`, `2026-10`, `2026-10 to 2026-12` or `2026`. */
  readonly label: string;
}

/** What a period is called. */
export type PeriodUnit = 'week' | 'month' | 'quarter' | 'year' | 'period';

/** The periods that a look back shows, the earliest first. */
export interface Periods {
  readonly unit: PeriodUnit;
  readonly periods: readonly Period[];
  /** Months of the calendar that they cover: this one, and those before it. */
  readonly months: number;
  /** Months of the calendar from the first entry to today. */
  readonly allMonths: number;
}

/** Up to so many months are shown week by week. */
export const monthsByWeek = 6;
/** Up to so many months are shown unless more are asked for. */
export const usualMonths = 36;
/** No more periods than this are shown: charts stay readable, and quick to draw, however long the logs are. */
const mostPeriods = 49;

/** The possible lengths of a period, in months, with what they are called. */
const lengths = [
  { months: 1, unit: 'month' },
  { months: 3, unit: 'quarter' },
  { months: 12, unit: 'year' },
  { months: 60, unit: 'period' },
  { months: 300, unit: 'period' },
] as const;

/**
 * Divides the months before a day into weeks (from Monday), months or longer periods, at most 49 of them.
 *
 * @param firstDay day number of the first entry
 * @param asOfDay day number of today, which the last period holds
 * @param wanted how many months to look back; undefined: all, if they are not more than 36
 */
export function periodsOf(firstDay: number, asOfDay: number, wanted: number | undefined): Periods {
  const thisMonth = monthOf(asOfDay);
  const allMonths = thisMonth - monthOf(Math.min(firstDay, asOfDay)) + 1;
  const months = Math.max(1, Math.min(allMonths, Math.floor(wanted ?? usualMonths)));
  const from = Math.max(firstDayOf(thisMonth - months + 1), Math.min(firstDay, asOfDay));
  if (months <= monthsByWeek)
    return { unit: 'week', periods: weeksBetween(mondayBefore(from), asOfDay), months, allMonths };
  const { months: length, unit } =
    lengths.find((one) => months / one.months <= mostPeriods - 1) ?? lengths[lengths.length - 1]!;
  const periods: Period[] = [];
  for (let month = Math.floor(monthOf(from) / length) * length; month <= thisMonth; month += length) {
    const to = firstDayOf(month + length) - 1;
    periods.push({ from: firstDayOf(month), to, label: labelOf(month, length) });
  }
  return { unit, periods, months, allMonths };
}

/** The place of a day among the periods; -1 where it lies before or after all of them. */
export function periodAt(periods: readonly Period[], day: number): number {
  let low = 0;
  let high = periods.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const { from, to } = periods[middle]!;
    if (day < from) high = middle - 1;
    else if (day > to) low = middle + 1;
    else return middle;
  }
  return -1;
}

function weeksBetween(monday: number, asOfDay: number): Period[] {
  const count = Math.floor((asOfDay - monday) / 7) + 1;
  return Array.from({ length: count }, (_, i) => {
    const from = monday + 7 * i;
    return { from, to: from + 6, label: `week of ${formatDate(from)}` };
  });
}

/** 1970-01-01 was a Thursday. */
function mondayBefore(day: number): number {
  return day - ((((day + 3) % 7) + 7) % 7);
}

function labelOf(month: number, length: number): string {
  const name = (one: number): string => formatDate(firstDayOf(one)).slice(0, 7);
  const last = month + length - 1;
  if (length === 1) return name(month);
  if (length === 12) return name(month).slice(0, 4);
  return length < 12
    ? `${name(month)} to ${name(last)}`
    : `${name(month).slice(0, 4)} to ${name(last).slice(0, 4)}`;
}
