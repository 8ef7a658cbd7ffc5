import { describe, expect, it } from 'vitest';
import {
  periodAt,
  periodsOf,
  type Periods,
} from '../../../../server/src/reports/progress/progressPeriods.ts';
import { progressTicks } from '../../../../server/src/reports/progress/progressTicks.ts';
import { formatDate, parseMoment } from '../../../../server/src/text/calendar.ts';

const dayOf = (date: string): number => parseMoment(date)!.date;
const between = (first: string, today: string, months?: number): Periods =>
  periodsOf(dayOf(first), dayOf(today), months);

describe('the periods of a look back', () => {
  // From the calendar: 2026-10-05 is a Monday.
  it('are weeks from Monday on, the last with today in it, where the logs are short', () => {
    const { unit, periods, months, allMonths } = between('2026-10-07', '2026-10-19');
    expect({ unit, months, allMonths }).toEqual({ unit: 'week', months: 1, allMonths: 1 });
    expect(periods.map(({ from, to }) => [formatDate(from), formatDate(to)])).toEqual([
      ['2026-10-05', '2026-10-11'],
      ['2026-10-12', '2026-10-18'],
      ['2026-10-19', '2026-10-25'],
    ]);
    expect(periods[0]!.label).toBe('week of 2026-10-05');
  });

  it.each([
    ['2026-06-15', undefined, 'week', 22, 'week of 2026-06-15', 'week of 2026-11-09'],
    ['2026-05-15', undefined, 'month', 7, '2026-05', '2026-11'],
    ['2026-05-15', 2, 'week', 7, 'week of 2026-09-28', 'week of 2026-11-09'],
    ['2016-11-20', undefined, 'month', 36, '2023-12', '2026-11'],
    ['2016-11-20', 12, 'month', 12, '2025-12', '2026-11'],
    ['2016-12-20', 120, 'quarter', 41, '2016-10 to 2016-12', '2026-10 to 2026-12'],
    ['2010-11-20', 5000, 'year', 17, '2010', '2026'],
    ['1970-01-02', 5000, 'period', 12, '1970 to 1974', '2025 to 2029'],
  ])('of logs since %s, %s months: by %s, %i of them', (first, months, unit, count, begin, end) => {
    const { periods, ...rest } = between(first, '2026-11-13', months);
    expect(rest.unit).toBe(unit);
    expect(periods).toHaveLength(count);
    expect([periods[0]!.label, periods.at(-1)!.label]).toEqual([begin, end]);
  });

  it('follow one another without a gap, hold every day, and never are more than 49', () => {
    const today = dayOf('2026-11-13');
    for (const first of ['1970-01-01', '1999-05-04', '2014-02-28', '2023-06-30', '2026-08-01', '2026-11-13'])
      for (const months of [undefined, 1, 6, 7, 36, 48, 49, 144, 145, 576, 12_360, 0, -3, 2.5]) {
        const { periods } = between(first, '2026-11-13', months);
        expect(periods.length).toBeGreaterThan(0);
        expect(periods.length).toBeLessThanOrEqual(49);
        periods.forEach(({ from, to }, at) => {
          expect(to).toBeGreaterThanOrEqual(from);
          if (at > 0) expect(from).toBe(periods[at - 1]!.to + 1);
          expect([periodAt(periods, from), periodAt(periods, to)]).toEqual([at, at]);
        });
        expect(periodAt(periods, today)).toBe(periods.length - 1);
        expect(periodAt(periods, periods[0]!.from - 1)).toBe(-1);
        expect(periodAt(periods, periods.at(-1)!.to + 1)).toBe(-1);
      }
  });

  it('have at most six labels on their axis, where periods begin', () => {
    for (const [first, months] of [
      ['2026-10-07', undefined],
      ['2026-06-01', undefined],
      ['2025-01-01', undefined],
      ['2016-11-20', undefined],
      ['2016-11-20', 500],
      ['1970-01-01', 5000],
    ] as const) {
      const { periods, unit } = between(first, '2026-11-13', months);
      const ticks = progressTicks(periods, unit);
      expect(ticks.length).toBeGreaterThanOrEqual(2);
      expect(ticks.length).toBeLessThanOrEqual(6);
      const begins = new Set(periods.map(({ from }) => from));
      for (const { at, label } of ticks) {
        expect(begins).toContain(at);
        expect(formatDate(at)).toContain(label);
      }
    }
  });
});
