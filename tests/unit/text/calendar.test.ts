import { describe, expect, it } from 'vitest';
import {
  compareMoments,
  runnerDayOf,
  formatDate,
  parseTimeOfDay,
  parseMoment,
} from '../../../server/src/text/calendar.ts';

describe('compareMoments', () => {
  it('puts earlier days and times first, a bare date before the times of its day', () => {
    const written = ['2026-10-06', '2026-10-05T19:30', '2026-10-05', '2026-10-05T04:00'];
    const sorted = [...written].sort((a, b) => compareMoments(parseMoment(a)!, parseMoment(b)!));
    expect(sorted).toEqual(['2026-10-05', '2026-10-05T04:00', '2026-10-05T19:30', '2026-10-06']);
  });
});

describe('parseMoment', () => {
  it('counts days from 1970-01-01', () => {
    expect(parseMoment('1970-01-01')).toEqual({ date: 0, minute: undefined });
    // 2000-03-01 is day 11017: 30 years with 7 leap days, then 31 + 29 days (by hand).
    expect(parseMoment('2000-03-01')?.date).toBe(30 * 365 + 7 + 31 + 29);
  });

  it('reads a time with T or a space, and seconds', () => {
    const { date } = parseMoment('2026-10-05')!;
    expect(parseMoment('2026-10-05T19:30')).toEqual({ date, minute: 1170 });
    expect(parseMoment('2026-10-05 19:30')).toEqual({ date, minute: 1170 });
    expect(parseMoment('2026-10-05T00:00:30')).toEqual({ date, minute: 0.5 });
  });

  // Gregorian rule: every fourth year, not the hundredth, but the four-hundredth (S; ISO 8601).
  it.each(['2024-02-29', '2000-02-29', '2400-02-29'])('knows the leap day %s', (text) => {
    expect(formatDate(parseMoment(text)!.date)).toBe(text);
  });

  it.each([
    '2023-02-29',
    '1900-02-29',
    '2026-02-30',
    '2026-04-31',
    '2026-13-01',
    '2026-00-10',
    '2026-01-00',
    '0050-01-01',
    '2026-10-05T24:00',
    '2026-10-05T19:60',
    '2026-10-05T19:30:60',
    '2026-10-05T1:30',
    '2026-1-5',
    '2026-10-05Z',
    '',
    'today',
  ])('does not take %s for a moment', (text) => {
    expect(parseMoment(text)).toBeUndefined();
  });

  it('goes from day to day without a gap', () => {
    const start = parseMoment('2023-12-30')!.date;
    for (let day = 0; day < 800; day++) expect(parseMoment(formatDate(start + day))!.date).toBe(start + day);
  });
});

it('begins a day where the runner does', () => {
  const dayStarts = parseTimeOfDay('04:00');
  expect(dayStarts).toBe(240);
  const day = (text: string) => formatDate(runnerDayOf(parseMoment(text)!, dayStarts));
  expect(day('2026-10-05T03:59')).toBe('2026-10-04');
  expect(day('2026-10-05T04:00')).toBe('2026-10-05');
  expect(day('2026-10-05')).toBe('2026-10-05');
  expect(day('2026-01-01T00:10')).toBe('2025-12-31');
});
