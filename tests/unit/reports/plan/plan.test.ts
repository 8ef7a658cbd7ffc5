import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { planIcs } from '../../../../server/src/reports/plan/planIcs.ts';
import { planMarkdown } from '../../../../server/src/reports/plan/planMarkdown.ts';
import { planPage } from '../../../../server/src/reports/plan/planText.ts';
import { pageText } from '../../../../server/src/cli/terminal/layout/pageText.ts';
import { screenOf } from '../../../../server/src/cli/terminal/layout/screen.ts';
import type { PlanReport } from '../../../../server/src/reports/plan/planReport.ts';

const hostile = '<img src=x onerror=alert(1)> | *x*\u001b[31m';
const names = new Map([['vault', hostile]]);
const report: PlanReport = {
  standings: [],
  swaps: [],
  asOf: '2026-11-09',
  set: ['vault'],
  days: [
    {
      date: '2026-11-09',
      blocks: [
        { technique: 'vault', minutes: 25, rest: 5 },
        { technique: 'vault', minutes: 25, rest: 0 },
      ],
      runMinutes: 0,
      unused: { minutes: 45, rule: 'hour-on-one' },
    },
    { date: '2026-11-10', blocks: [], runMinutes: 90, unused: null },
    { date: '2026-11-11', blocks: [], runMinutes: 0, unused: { minutes: 17, rule: 'short-block' } },
    { date: '2026-11-12', blocks: [], runMinutes: 0, unused: { minutes: 4, rule: 'short-block' } },
  ],
  forecast: [{ date: '2026-11-10', gain: 1.234, low: 0.4, high: 2.6 }],
  oneSession: { gain: 1 },
  gap: { method: 'exhaustive', value: 1.2, bound: 1.2 },
  notes: ['One note.'],
};

describe('a plan as Markdown', () => {
  it('is a table of the week, with names as text', () => {
    const text = planMarkdown(report, names);
    expect(text).toContain('| Mon 2026-11-09 | ');
    expect(text).toContain('25 min, rest 5 min<br>');
    expect(text).toContain('| Tue 2026-11-10 |  | 90 min |');
    expect(text).toContain('<br>45 min unused: at most an hour a day on one technique |');
    expect(text).toContain('| Wed 2026-11-11 | 17 min unused: a block takes at least 20 min |');
    expect(text).toContain(
      'each session. The plan is expected to save 0.4 to 2.6 s a run by Tue 2026-11-10.',
    );
    expect(text).not.toContain('<img');
    expect(text).not.toContain('\u001b');
    // Three cells a row, whatever the names hold.
    for (const line of text.split('\n').filter((row) => row.startsWith('| Mon')))
      expect(line.match(/(?<!\\)\|/g)).toHaveLength(4);
  });
});

describe('a plan as text', () => {
  it('carries no control characters and says that nothing is better', () => {
    const text = pageText(
      planPage(report, { title: 'L', basis: ['Basis.'], names }),
      screenOf({ isTTY: false }, { COLUMNS: '100' }),
    );
    expect(text).not.toContain('\u001b');
    expect(text).toContain('none gains more');
    expect(text.replaceAll(/\s+/g, ' ')).toContain(
      'each session. The plan is expected to save 0.4 to 2.6 s a run by Tue 2026-11-10.',
    );
    expect(text).toContain('Tue 2026-11-10  Runs');
    expect(text).toMatch(/\n +45 min unused: at most an hour a day on one technique\n/);
    expect(text).toContain('Wed 2026-11-11  17 min unused: a block takes at least 20 min');
    // A few minutes are not worth a line.
    expect(text).toContain('Thu 2026-11-12  free');
  });
});

describe('a plan as a calendar', () => {
  const words = { title: 'L, any%', key: 'l', names, startMinute: 19 * 60 + 30, dayStarts: 240 };
  const read = (text: string) =>
    new ICAL.Component(ICAL.parse(text) as unknown[])
      .getAllSubcomponents('vevent')
      .map((v) => new ICAL.Event(v));

  it('puts a start after midnight on the next calendar day', () => {
    const [session] = read(planIcs(report, { ...words, startMinute: 30 }));
    expect(session!.startDate.toString()).toBe('2026-11-10T00:30:00');
    expect(session!.uid).toBe('practice-2026-11-09-l@routewright.invalid');
  });

  it('is the same in every time zone, and keeps names as text', () => {
    const here = planIcs(report, words);
    const before = process.env.TZ;
    try {
      process.env.TZ = 'Pacific/Auckland';
      expect(planIcs(report, words)).toBe(here);
    } finally {
      if (before === undefined) delete process.env.TZ;
      else process.env.TZ = before;
    }
    const [session, runs] = read(here);
    expect(session!.description).toContain('<img src=x onerror=alert(1)> | *x*');
    expect(session!.description).toContain('45 min unused: at most an hour a day on one technique');
    expect(here).not.toContain('\u001b');
    expect(session!.startDate.toString()).toBe('2026-11-09T19:30:00');
    expect(session!.endDate.toString()).toBe('2026-11-09T20:25:00');
    expect(runs!.duration.toSeconds()).toBe(90 * 60);
  });
});
