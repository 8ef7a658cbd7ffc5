/** Dates as people write them into a column of a table. */
import { parseMoment } from '../text/calendar.ts';

/** Which of two numbers in `3/4/2026` is the day. */
export const dateOrders = ['day-first', 'month-first'] as const;
export type DateOrder = (typeof dateOrders)[number];

/** A cell's moment, such as `2026-10-05T19:30`, or why it has none. */
export type CellMoment = { readonly moment: string } | { readonly problem: string };

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** A date of two small numbers and a year, with a time behind it or not. */
const smallNumbers = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d{2})(?:,?[ T]\s{0,2}(.{1,12}))?$/;
const yearFirst = /^(\d{4})[/.-](\d{1,2})[/.-](\d{1,2})(?:[ T]\s{0,2}(.{1,12}))?$/;
const monthByName =
  /^(?:[a-z]{2,9},? )?(?:(\d{1,2})[ .-]{1,2}([a-z]{3,9})|([a-z]{3,9})[ .-]{1,2}(\d{1,2})),?[ -](\d{4}|\d{2})(?:,?[ T]\s{0,2}(.{1,12}))?$/i;

/**
 * The order of day and month in a column: as told, else the only one in which every cell is a date. Where both are
 * possible and make a difference, a problem with the first cell of that kind.
 */
export function dateOrderOf(
  cells: readonly string[],
  told?: DateOrder,
): { readonly order: DateOrder } | { readonly problem: string; readonly asks: 'date order' } {
  if (told !== undefined) return { order: told };
  const written = cells.flatMap((cell) => {
    const match = smallNumbers.exec(cell);
    return match ? [{ cell, first: Number(match[1]), second: Number(match[3]), sign: match[2]! }] : [];
  });
  const dayFirst = written.some(({ first }) => first > 12);
  const monthFirst = written.some(({ second }) => second > 12);
  if (dayFirst !== monthFirst) return { order: dayFirst ? 'day-first' : 'month-first' };
  // With points between, the day comes first wherever people write so. Source: common practice.
  const open = written.find(({ first, second, sign }) => first !== second && sign !== '.');
  if (open === undefined || dayFirst) return { order: 'day-first' };
  return {
    problem: `the date ${open.cell} can be read in two ways`,
    asks: 'date order',
  };
}

/**
 * Reads one cell: a date with or without a time of day, in ISO 8601, with slashes, points or hyphens, or with the month's
 * English name.
 *
 * @example
 * readDateCell('5.10.2026 19:30', 'day-first') // { moment: '2026-10-05T19:30' }
 * readDateCell('Oct 5, 2026', 'day-first') // { moment: '2026-10-05' }
 */
export function readDateCell(cell: string, order: DateOrder): CellMoment {
  if (parseMoment(cell)) return { moment: cell.replace(' ', 'T') };
  const parts = dateParts(cell, order);
  if (parts) {
    const { year, month, day, time } = parts;
    const date = `${year}-${two(month)}-${two(day)}`;
    const clock = time === undefined ? '' : readClock(time);
    if (clock !== undefined && parseMoment(date)) return { moment: clock === '' ? date : `${date}T${clock}` };
  }
  const zone = /(?:Z|[+-]\d\d:?\d\d)$/.test(cell) && /\d[T ]\d/.test(cell);
  const hint = zone ? ' without a time zone: your own clock counts' : '';
  return { problem: `The start needs a date such as 2026-10-05 or 2026-10-05T19:30${hint}, not ${cell}.` };
}

interface DateParts {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly time: string | undefined;
}

function dateParts(cell: string, order: DateOrder): DateParts | undefined {
  const iso = yearFirst.exec(cell);
  if (iso) return { year: Number(iso[1]), month: Number(iso[2]), day: Number(iso[3]), time: iso[4] };
  const small = smallNumbers.exec(cell);
  if (small) {
    const [first, second] = [Number(small[1]), Number(small[3])];
    const [day, month] = order === 'day-first' ? [first, second] : [second, first];
    return { year: fullYear(small[4]!), month, day, time: small[5] };
  }
  const named = monthByName.exec(cell);
  if (!named) return undefined;
  const month = months.indexOf((named[2] ?? named[3]!).slice(0, 3).toLowerCase()) + 1;
  return { year: fullYear(named[5]!), month, day: Number(named[1] ?? named[4]), time: named[6] };
}

/** A time of day such as `19:30`, `7:30 pm` or `19:30:10`, as `19:30`; undefined where it is none. */
export function readClock(written: string): string | undefined {
  const match = /^(\d{1,2}):(\d{2})(?::(\d{2}))?\s{0,2}([ap])?\.?m?\.?$/i.exec(written.trim());
  if (!match) return undefined;
  const half = match[4]?.toLowerCase();
  const written12 = Number(match[1]);
  if (half !== undefined && (written12 < 1 || written12 > 12)) return undefined;
  const hour = half === undefined ? written12 : (written12 % 12) + (half === 'p' ? 12 : 0);
  if (hour > 23 || Number(match[2]) > 59) return undefined;
  return `${two(hour)}:${match[2]!}${match[3] === undefined ? '' : `:${match[3]}`}`;
}

function fullYear(written: string): number {
  return written.length === 4 ? Number(written) : 2000 + Number(written);
}

function two(number: number): string {
  return String(number).padStart(2, '0');
}
