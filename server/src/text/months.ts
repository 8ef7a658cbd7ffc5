/** Months of the calendar as numbers: months since January 1970, as days are counted from its first day. */

/**
 * The month that a day belongs to.
 *
 * @param day days since 1970-01-01
 * @example
 * monthOf(31) // 1
 */
export function monthOf(day: number): number {
  const date = new Date(day * 86_400_000);
  return (date.getUTCFullYear() - 1970) * 12 + date.getUTCMonth();
}

/**
 * The day number of a month's first day.
 *
 * @example
 * firstDayOf(1) // 31
 */
export function firstDayOf(month: number): number {
  return Math.round(Date.UTC(1970 + Math.floor(month / 12), ((month % 12) + 12) % 12, 1) / 86_400_000);
}
