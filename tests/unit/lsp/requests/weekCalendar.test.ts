import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { weekCalendarHandler } from '../../../../server/src/lsp/requests/weekCalendar.ts';
import { harborRoute, openEditor, uriOf, type Editor } from '../editor.ts';

const week = 'route: a.route.yaml\ndays: { mon: 60, wed: 60, sat: 90 }\nruns: { sun: 60 }\n';
const practice =
  'route: a.route.yaml\nsessions:\n  - start: 2026-10-05T20:15\n    blocks: [{ technique: lamp-hop, minutes: 25, landed: [61, 104] }]\n';
const ask = ({ services }: Editor) =>
  runToCompletion(weekCalendarHandler(services)({ uri: uriOf('a.week.yaml') }));

describe('the week as a calendar', () => {
  it('has an event for each session and for the runs, at the hour of the logs, under the route’s name', async () => {
    const files = { 'a.week.yaml': week, 'a.route.yaml': harborRoute, 'a.practice.yaml': practice };
    const calendar = ask(await openEditor(files, { today: '2026-10-08' }));
    if ('message' in calendar) throw new Error(calendar.message);
    expect(calendar).toMatchObject({ name: 'a.ics', startsAt: '20:15' });
    const events = new ICAL.Component(ICAL.parse(calendar.text) as unknown[])
      .getAllSubcomponents('vevent')
      .map((event) => new ICAL.Event(event));
    // From a Thursday on: Saturday, Sunday's runs, Monday, Wednesday.
    expect(events.map(({ startDate, summary }) => [startDate.toString(), summary.split(':')[0]])).toEqual([
      ['2026-10-10T20:15:00', 'Practice'],
      ['2026-10-11T20:15:00', 'Runs'],
      ['2026-10-12T20:15:00', 'Practice'],
      ['2026-10-14T20:15:00', 'Practice'],
    ]);
  });

  it('is refused with the reason where the week has nothing, or it is not known whose it is', async () => {
    const empty = { 'a.week.yaml': 'route: a.route.yaml\n', 'a.route.yaml': harborRoute };
    expect(ask(await openEditor(empty))).toEqual({
      message: 'The week has neither a block nor a run, so there is nothing for a calendar.',
    });
    const named = (runner: string) => `${practice}runner: ${runner}\n`;
    const several = { 'a.week.yaml': week, 'a.route.yaml': harborRoute, 'x.practice.yaml': named('Ada') };
    const both = { ...several, 'y.practice.yaml': named('Bo') };
    expect(ask(await openEditor(both))).toMatchObject({
      message: expect.stringContaining('Ada and Bo') as string,
    });
  });
});
