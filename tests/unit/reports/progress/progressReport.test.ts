import { describe, expect, it } from 'vitest';
import type { ProgressInput } from '../../../../server/src/queries/progressInput.ts';
import { progressReport } from '../../../../server/src/reports/progress/progressReport.ts';
import {
  bestText,
  hoursText,
  practisedText,
  ratesSentence,
  summaryText,
} from '../../../../server/src/reports/progress/progressWords.ts';
import { parseMoment } from '../../../../server/src/text/calendar.ts';

const dayOf = (date: string): number => parseMoment(date)!.date;
const block = (technique: string, date: string, minutes: number, landed?: number, tries?: number) => ({
  technique,
  day: dayOf(date),
  order: 0,
  minutes,
  ...(landed !== undefined && tries !== undefined && { counted: { landed, tries } }),
});
const tried = (technique: string, date: string, landed: number, tries: number) => ({
  technique,
  day: dayOf(date),
  order: 0,
  counted: { landed, tries },
});
const run = (date: string, seconds: number) => ({ day: dayOf(date), start: `${date}T20:00`, seconds });

const practice = [
  block('hop', '2026-10-05', 20, 30, 50),
  block('hop', '2026-10-11', 10, 10, 50),
  block('kick', '2026-10-06', 30),
  block('hop', '2026-10-19', 60, 12, 20),
];
/** Two weeks with entries and one between them without. */
const tiny: ProgressInput = {
  asOfDay: dayOf('2026-10-20'),
  firstDay: dayOf('2026-10-05'),
  techniques: ['kick', 'hop', 'vault'],
  logs: { practice, runs: [tried('hop', '2026-10-07', 1, 1), tried('hop', '2026-10-08', 0, 3)] },
  blocks: practice.map(({ day, minutes }) => ({ day, minutes })),
  finishedRuns: [run('2026-10-07', 220), run('2026-10-08', 230), run('2026-10-20', 218.5)],
  target: 219,
};

describe('a look back over three weeks, counted by hand', () => {
  const report = progressReport(tiny)!;
  const [kick, hop, vault] = report.techniques;

  it('adds up landed and tries of each week, in practice and in runs', () => {
    expect(report.unit).toBe('week');
    expect(report.periods).toHaveLength(3);
    expect(hop!.practice.points).toEqual([
      { landed: 40, tries: 100, rate: 0.4, range: null },
      null,
      { landed: 12, tries: 20, rate: 0.6, range: expect.anything() as unknown },
    ]);
    // By hand, Wilson: (12 + 0.8212 ± 1.28155 · √(4.8 + 0.4106)) / 21.6424.
    expect(hop!.practice.points[2]!.range!.low).toBeCloseTo(0.4572, 4);
    expect(hop!.practice.points[2]!.range!.high).toBeCloseTo(0.7276, 4);
    expect(hop!.practice.shown).toEqual({ landed: 52, tries: 120, rate: 52 / 120, range: null });
    expect(hop!.run.points.map((point) => point && [point.landed, point.tries])).toEqual([
      [1, 4],
      null,
      null,
    ]);
  });

  it('counts the minutes of blocks without counts as well, and knows what was never logged', () => {
    expect(kick).toMatchObject({ minutes: [30, 0, 0], allMinutes: 30, isLogged: true });
    expect(kick!.practice.shown).toBeNull();
    expect(hop).toMatchObject({ minutes: [30, 0, 60], allMinutes: 90, shownMinutes: 90 });
    expect(vault).toMatchObject({ allMinutes: 0, isLogged: false });
    expect(report.techniques.map(({ technique }) => technique)).toEqual(['kick', 'hop', 'vault']);
    expect(report.practice.byPeriod).toEqual([
      { minutes: 60, hoursAWeek: 1 },
      { minutes: 0, hoursAWeek: 0 },
      { minutes: 60, hoursAWeek: 1 },
    ]);
  });

  it('has the best time so far after each finished run', () => {
    const { runs, best, records, bestBefore } = report.times;
    expect(runs.map(({ seconds, bestSoFar, isBest }) => [seconds, bestSoFar, isBest])).toEqual([
      [220, 220, true],
      [230, 220, false],
      [218.5, 218.5, true],
    ]);
    expect(best!.seconds).toBe(218.5);
    expect(bestBefore).toBeNull();
    expect(records.map(({ fasterBy }) => fasterBy)).toEqual([null, 1.5]);
  });

  it('says it in words', () => {
    expect(summaryText(report)).toBe(
      '3 weeks, from 2026-10-05 to 2026-10-20: 2.0 h of practice, 3 finished runs with a final time.',
    );
    expect(bestText(report.times)).toBe(
      'The best finished time is 3:38.5, of 2026-10-20. The target, 3:39, is 0.5 s more than that.',
    );
    expect(hoursText(report)).toBe(
      '2.0 h of practice in the time shown, most in the week of 2026-10-05: 1.0 h.',
    );
    expect(practisedText(hop!, report)).toBe('1.5 h of practice');
    expect(practisedText(vault!, report)).toBe('No practice logged');
    expect(ratesSentence(hop!, report)).toBe(
      'In practice: 52 of 120, 43 %; 40 % in the week of 2026-10-05, 60 % in the week of 2026-10-19. ' +
        'In runs: 1 of 4, 25 % (8 to 57 %), all in the week of 2026-10-05.',
    );
  });
});

describe('a look back over long logs', () => {
  /** Ten years, a block and a finished run a day. */
  const days = Array.from({ length: 3650 }, (_, i) => dayOf('2026-11-13') - 3649 + i);
  const long: ProgressInput = {
    asOfDay: dayOf('2026-11-13'),
    firstDay: days[0]!,
    techniques: ['hop'],
    logs: {
      practice: days.map((day) => ({
        technique: 'hop',
        day,
        order: 0,
        minutes: 30,
        counted: { landed: 1, tries: 2 },
      })),
      runs: [],
    },
    blocks: days.map((day) => ({ day, minutes: 30 })),
    finishedRuns: days.map((day, i) => ({ day, start: '2020-01-01T10:00', seconds: 3600 - (i % 500) })),
    target: null,
  };

  it.each([undefined, 6, 12, 120, 1000])('has a bounded number of points, %s months', (months) => {
    const report = progressReport(long, months)!;
    expect(report.periods.length).toBeLessThanOrEqual(49);
    expect(report.techniques[0]!.practice.points).toHaveLength(report.periods.length);
    expect(report.times.runs.length).toBeLessThanOrEqual(310);
    expect(report.times.runs.length).toBeGreaterThan(100);
  });

  it('tells what is shown from all there is', () => {
    const report = progressReport(long)!;
    const [hop] = report.techniques;
    // From the calendar: 2023-12-01 to 2026-11-13 are 1079 days.
    expect(report.practice.shownMinutes).toBe(1079 * 30);
    expect(hop!.allMinutes).toBe(3650 * 30);
    expect(practisedText(hop!, report)).toBe('1825.0 h of practice, 539.5 h in 36 months');
    expect(summaryText(report)).toBe(
      '36 months, from 2023-12-01 to 2026-11-13: 539.5 h of practice, 1079 finished runs with a final time. ' +
        'In all, since 2016-11-16: 1825.0 h of practice, 3650 finished runs.',
    );
    // Half an hour a day.
    for (const { hoursAWeek } of report.practice.byPeriod) expect(hoursAWeek).toBeCloseTo(3.5, 9);
  });

  it('keeps of many runs the fastest of each period, and the best before the first one', () => {
    const { runs, bestBefore, best } = progressReport(long)!.times;
    expect(bestBefore).toBe(3600 - 499);
    expect(best!.seconds).toBe(3600 - 499);
    expect(Math.min(...runs.map(({ seconds }) => seconds))).toBe(3600 - 499);
    expect(runs.every(({ bestSoFar }) => bestSoFar === 3600 - 499)).toBe(true);
    expect(runs.map(({ day }) => day)).toEqual(runs.map(({ day }) => day).sort((a, b) => a - b));
  });
});

it('is nothing where nothing is logged', () => {
  const empty = {
    ...tiny,
    firstDay: undefined,
    logs: { practice: [], runs: [] },
    blocks: [],
    finishedRuns: [],
  };
  expect(progressReport(empty)).toBeUndefined();
});
