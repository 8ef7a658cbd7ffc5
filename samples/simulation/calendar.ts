/** Day 0 of the sample logs: a Monday. The dates are fixed, so that the sample never grows stale. */
const firstDay = Date.UTC(2026, 8, 28);
const dayLength = 24 * 60 * 60 * 1000;

/** The date of a day counted from 0, as `2026-09-28`. */
export function dateOf(day: number): string {
  return new Date(firstDay + day * dayLength).toISOString().slice(0, 10);
}

/** Date and time on the runner's own clock, as `2026-09-28T19:30`; minutes counted from midnight. */
export function momentOf(day: number, minutes: number): string {
  const hour = String(Math.floor(minutes / 60)).padStart(2, '0');
  const minute = String(minutes % 60).padStart(2, '0');
  return `${dateOf(day)}T${hour}:${minute}`;
}
