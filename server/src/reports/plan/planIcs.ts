import { ICalCalendar } from 'ical-generator';
import { parseMoment } from '../../text/calendar.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { unusedText } from './planNotes.ts';
import type { PlanReport, PlanReportDay } from './planReport.ts';

/** What the calendar file needs in addition to the plan. */
export interface IcsOptions {
  /** Game and category. */
  readonly title: string;
  /** Distinguishes the events of one route and runner from all others: part of every event's id. */
  readonly key: string;
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
  /** Minutes after midnight at which a session starts. */
  readonly startMinute: number;
  /**
   * Minutes after midnight at which the runner's day begins. A session that starts earlier than this is after midnight,
   * so on the next date.
   */
  readonly dayStarts: number;
}

const minuteMs = 60_000;
const dayMs = 86_400_000;
/** Minutes between practice and runs. */
const breakBeforeRuns = 10;

/**
 * The plan as an iCalendar file (RFC 5545): an event for each session and one for each time set aside for runs, in the
 * runner's local time, without a time zone. An event's id consists of its route, runner, day and kind, and its sequence
 * number rises with the plan's date, so that importing a later plan changes the events of an earlier one. Events that
 * only an earlier plan has stay until the person deletes them.
 */
export function planIcs(report: PlanReport, words: IcsOptions): string {
  const asOf = parseMoment(report.asOf)?.date ?? 0;
  const title = sanitizeForTerminal(words.title);
  const calendar = new ICalCalendar({
    name: `Practice: ${title}`,
    prodId: { company: 'routewright', product: 'plan', language: 'EN' },
  });
  const add = (
    kind: string,
    date: string,
    start: Date,
    minutes: number,
    summary: string,
    text: string,
  ): void => {
    calendar.createEvent({
      id: `${kind}-${date}-${words.key}@routewright.invalid`,
      sequence: Math.max(0, asOf),
      stamp: new Date(asOf * dayMs),
      start,
      end: new Date(start.getTime() + minutes * minuteMs),
      floating: true,
      summary,
      description: text,
    });
  };
  for (const day of report.days) {
    const start = startOf(day, words);
    const length = day.blocks.reduce((sum, block) => sum + block.minutes + block.rest, 0);
    if (length > 0) {
      const names = day.blocks.map(({ technique }) => nameOf(technique, words));
      add(
        'practice',
        day.date,
        start,
        length,
        `Practice: ${[...new Set(names)].join(', ')}`,
        sessionText(day, report, title, words),
      );
    }
    if (day.runMinutes > 0) {
      const from = length > 0 ? new Date(start.getTime() + (length + breakBeforeRuns) * minuteMs) : start;
      add('runs', day.date, from, Math.round(day.runMinutes), `Runs: ${title}`, '');
    }
  }
  return calendar.toString();
}

function nameOf(id: string, { names }: IcsOptions): string {
  return sanitizeForTerminal(names.get(id) ?? id);
}

/** The start of a day's session in the runner's local time, without a time zone. */
function startOf({ date }: PlanReportDay, { startMinute, dayStarts }: IcsOptions): Date {
  const day = (parseMoment(date)?.date ?? 0) + (startMinute < dayStarts ? 1 : 0);
  return new Date(day * dayMs + startMinute * minuteMs);
}

function sessionText(
  { blocks, unused }: PlanReportDay,
  { standings }: PlanReport,
  title: string,
  words: IcsOptions,
): string {
  const lines = blocks.flatMap(({ technique, minutes, rest }) => [
    `${nameOf(technique, words)}: ${minutes} min`,
    ...(rest > 0 ? [`Rest: ${rest} min`] : []),
  ]);
  const left = unusedText(unused, standings.length);
  return [title, ...lines, ...(left === undefined ? [] : [left])].join('\n');
}
