import { minutesPerDay, runnerDayOf, parseMoment } from '../text/calendar.ts';
import type { Moment } from '../text/calendar.ts';
import type { Reading } from '../files/reading/reading.ts';
import type { TextEdit } from '../files/edit/textEdit.ts';
import type { Path } from '../files/yaml/tree.ts';
import { toFlowYaml } from '../files/edit/flowYaml.ts';
import { insertItems, type ListItemText } from '../files/edit/insertItems.ts';
import { listLengthAt, scalarTextAt } from '../files/edit/valueAt.ts';
import type { SealLine } from './journalLines.ts';
import { sessionPaths, startMomentAt } from './logEntries.ts';

/** Blocks practised in one go, which become a session of their own. */
interface PracticeSitting {
  readonly start: string;
  readonly blocks: SealLine[];
  /** When the last block of it ended. */
  end: Moment;
}

/** A sitting ends with a rest longer than this, minutes. */
const maxRest = 120;
/** After the clocks went back, a block may seem to begin before its session, by this many minutes at most. */
const clockChange = 60;

/**
 * The edits that put blocks into the sittings that they belong to, or into sessions of their own.
 *
 * @param dayStarts minutes after midnight at which the runner's day begins
 */
export function addSessionEdits(reading: Reading, seals: readonly SealLine[], dayStarts: number) {
  const sessions = sessionPaths(reading).map((path) => {
    const start = startMomentAt(reading, path);
    return { start, end: start && addMinutes(start, minutesIn(reading, path)) };
  });
  const joined = new Map<number, SealLine[]>();
  const fresh = new Map<number, PracticeSitting[]>();
  const ends = sessions.map(({ end }) => end);
  for (const seal of [...seals].sort((a, b) => compareText(a.local, b.local))) {
    const moment = parseMoment(seal.local) ?? { date: 0, minute: undefined };
    const minutes = typeof seal.entry.minutes === 'number' ? seal.entry.minutes : 0;
    const at = sessions.findLastIndex(({ start }, index) =>
      sameSitting(start, ends[index], moment, dayStarts),
    );
    if (at >= 0) {
      joined.set(at, [...(joined.get(at) ?? []), seal]);
      ends[at] = addMinutes(moment, minutes);
      continue;
    }
    const after = sessions.findLastIndex(({ start }) => start === undefined || !isAfter(start, moment)) + 1;
    const sittings = fresh.get(after) ?? [];
    fresh.set(after, sittings);
    const sitting = sittings.at(-1);
    if (sitting && sameSitting(parseMoment(sitting.start), sitting.end, moment, dayStarts)) {
      sitting.blocks.push(seal);
      sitting.end = addMinutes(moment, minutes);
    } else {
      sittings.push({ start: seal.local, blocks: [seal], end: addMinutes(moment, minutes) });
    }
  }
  const blocks = [...joined].map(([at, added]) => {
    const path = ['sessions', at, 'blocks'];
    return insertItems(reading, path, listLengthAt(reading, path) ?? 0, added.map(itemOf));
  });
  const whole = [...fresh].map(([after, sittings]) => {
    // One edit for each place: two would conflict where the session before them grows, too.
    return insertItems(reading, ['sessions'], after, sittings.map(sessionItem));
  });
  return mergeInsertions([...blocks, ...whole]);
}

/** Insertions at one place as one edit, in their order. */
function mergeInsertions(edits: readonly (TextEdit | undefined)[]): (TextEdit | undefined)[] {
  const result: (TextEdit | undefined)[] = [];
  for (const edit of edits) {
    const at = result.findIndex((other) => edit && other?.start === edit.start && other.end === edit.end);
    const other = result[at];
    if (edit && other) result[at] = { ...other, text: other.text + edit.text };
    else result.push(edit);
  }
  return result;
}

/** The edits that put runs into the log in the order of their starts. */
export function addRunEdits(reading: Reading, seals: readonly SealLine[]): (TextEdit | undefined)[] {
  const length = listLengthAt(reading, ['runs']) ?? 0;
  const starts = Array.from({ length }, (_, at) => startMomentAt(reading, ['runs', at]));
  const fresh = new Map<number, SealLine[]>();
  for (const seal of [...seals].sort((a, b) => compareText(a.local, b.local))) {
    const moment = parseMoment(seal.local);
    const after = starts.findLastIndex((start) => !start || !moment || !isAfter(start, moment)) + 1;
    fresh.set(after, [...(fresh.get(after) ?? []), seal]);
  }
  return [...fresh].map(([after, added]) => insertItems(reading, ['runs'], after, added.map(itemOf)));
}

function itemOf(seal: SealLine): ListItemText {
  const text = lineOf(seal);
  return { inline: text, lines: [text] };
}

function sessionItem({ start, blocks }: PracticeSitting): ListItemText {
  const written = blocks.map(lineOf);
  return {
    inline: `{ start: ${start}, blocks: [${written.join(', ')}] }`,
    lines: [`start: ${start}`, 'blocks:', ...written.map((block) => `  - ${block}`)],
  };
}

/** An entry as it is written into a log: one line, `{ id: b-7f3a91c2, technique: crate-vault, minutes: 25 }`. */
function lineOf({ block, entry }: SealLine): string {
  return toFlowYaml({ id: block, ...entry });
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Whether a moment is later than another; a bare date counts as its midnight. */
export function isAfter(a: Moment, b: Moment): boolean {
  return a.date > b.date || (a.date === b.date && (a.minute ?? 0) > (b.minute ?? 0));
}

function addMinutes({ date, minute }: Moment, minutes: number): Moment {
  if (minute === undefined) return { date, minute };
  const total = minute + minutes;
  return { date: date + Math.floor(total / minutesPerDay), minute: total % minutesPerDay };
}

/** Whether a block that began at `moment` belongs to a sitting, by its day and the rest before it. */
function sameSitting(
  start: Moment | undefined,
  end: Moment | undefined,
  moment: Moment,
  dayStarts: number,
): boolean {
  if (!start || !end || runnerDayOf(start, dayStarts) !== runnerDayOf(moment, dayStarts)) return false;
  // Where only dates are written, a day is one sitting.
  if (start.minute === undefined || moment.minute === undefined) return start.minute === moment.minute;
  return minutesBetween(start, moment) >= -clockChange && minutesBetween(end, moment) <= maxRest;
}

/** Minutes from one moment to another. */
function minutesBetween(a: Moment, b: Moment): number {
  return (b.date - a.date) * minutesPerDay + (b.minute ?? 0) - (a.minute ?? 0);
}

function minutesIn(reading: Reading, path: Path): number {
  const length = listLengthAt(reading, [...path, 'blocks']) ?? 0;
  let total = 0;
  for (let at = 0; at < length; at++)
    total += Number(scalarTextAt(reading, [...path, 'blocks', at, 'minutes'])) || 0;
  return total;
}
