import { expect, it } from 'vitest';
import { formatDate, parseMoment } from '../../../server/src/text/calendar.ts';
import { firstDayOf, monthOf } from '../../../server/src/text/months.ts';

const dayOf = (date: string): number => parseMoment(date)!.date;

// From the calendar: 2024 is a leap year, 2100 is none.
it.each([
  ['1970-01-01', 0, '1970-01-01'],
  ['1970-12-31', 11, '1970-12-01'],
  ['2024-02-29', 12 * 54 + 1, '2024-02-01'],
  ['2026-10-31', 12 * 56 + 9, '2026-10-01'],
  ['2100-03-01', 12 * 130 + 2, '2100-03-01'],
])('%s belongs to month %i, which begins on %s', (date, month, first) => {
  expect(monthOf(dayOf(date))).toBe(month);
  expect(formatDate(firstDayOf(month))).toBe(first);
});

it('a month ends where the next one begins', () => {
  for (let month = 0; month < 12 * 200; month++) {
    expect(monthOf(firstDayOf(month))).toBe(month);
    expect(monthOf(firstDayOf(month + 1) - 1)).toBe(month);
  }
});
