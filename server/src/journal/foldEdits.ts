import { dayOf, parseMoment } from '../files/calendar.ts';
import type { Moment } from '../files/documents.ts';
import { read, type Reading } from '../files/read.ts';
import type { TextEdit } from '../files/textEdit.ts';
import { locate, type Path } from '../files/tree.ts';
import { entryText } from './entryText.ts';
import type { SealLine } from './lines.ts';
import { insertItems, removeItem, type Item } from './listEdits.ts';
import { tapeOf } from './seal.ts';
import { entriesOf, idsOf, listAt, sessionPaths, startAt, wordAt } from './standing.ts';

/** What folding does to a text. */
export interface FoldPlan {
  /** They do not overlap, and all of them are meant for the text as it is. */
  readonly edits: readonly TextEdit[];
  /** Ids of the entries that the text has in the end because of the edits. */
  readonly added: readonly string[];
  /** Ids of the entries that stood in the text already. */
  readonly standing: readonly string[];
  /** Ids of entries whose tape is shortened. */
  readonly shortened: readonly string[];
  /** Ids of entries that are taken out again. */
  readonly removed: readonly string[];
  /** Ids of entries from which something was to be taken back, but which were edited by hand meanwhile. */
  readonly handEdited: readonly string[];
  /** Ids of entries that a saved file has held and this text does not: the user took them out. */
  readonly dropped: readonly string[];
  /** The text after the edits. */
  readonly text: string;
}

/** Why nothing can be folded into a text, in a sentence without its subject. */
export interface Unfit {
  readonly problem: string;
}

/** Problems after which the text may mean more than it seems to. */
const unsure: ReadonlySet<string> = new Set([
  'yaml-syntax',
  'merge-conflict',
  'several-documents',
  'nested-too-deep',
  'aliases-too-large',
  'file-too-large',
]);

/**
 * The edits that make a log hold sealed entries, each once, with comments, order and quoting kept. Entries that stand
 * there already are passed over. Never throws.
 *
 * @param seals entries that are neither saved nor dropped yet
 * @param dayStarts minutes after midnight at which the runner's day begins
 */
export function foldEdits(reading: Reading, seals: readonly SealLine[], dayStarts: number): FoldPlan | Unfit {
  if (reading.problems.some(({ code }) => unsure.has(code)))
    return { problem: 'it has an error in its YAML; mend that first' };
  const standing = new Map(entriesOf(reading).flatMap(({ id, path }) => (id ? [[id, path] as const] : [])));
  const edits: (TextEdit | undefined)[] = [];
  const add: SealLine[] = [];
  const done = { shortened: [] as string[], removed: [] as string[], handEdited: [] as string[] };
  const dropped: string[] = [];
  for (const seal of seals) {
    const path = standing.get(seal.block);
    if (!path) {
      if (!seal.gone && !seal.known) add.push(seal);
      else if (!seal.gone) dropped.push(seal.block);
      continue;
    }
    if (seal.from === undefined) continue;
    const tape = wordAt(reading, [...path, 'tape']) ?? '';
    if (tape === tapeOf(seal) && !seal.gone) continue;
    if (!seal.from.includes(tape)) done.handEdited.push(seal.block);
    else if (seal.gone) {
      edits.push(removeItem(reading, path));
      done.removed.push(seal.block);
    } else {
      edits.push(newTape(reading, path, tapeOf(seal)));
      done.shortened.push(seal.block);
    }
  }
  edits.push(...(reading.kind === 'runs' ? runEdits(reading, add) : sessionEdits(reading, add, dayStarts)));
  const sure = edits.filter((edit) => edit !== undefined);
  const text = sure.length === edits.length ? edited(reading.text, sure) : undefined;
  const added = add.map(({ block }) => block);
  const touched = new Set([...added, ...done.shortened, ...done.removed]);
  if (text === undefined || (edits.length > 0 && !holds(reading, text, added, done.removed, touched)))
    return { problem: 'it is written in a way that no edit is sure to fit' };
  return {
    edits: sure,
    added,
    standing: seals.flatMap(({ block }) => (standing.has(block) ? [block] : [])),
    ...done,
    dropped,
    text,
  };
}

/** The text with edits that do not overlap; a table may bring thousands of them. */
function edited(text: string, edits: readonly TextEdit[]): string {
  let at = 0;
  const parts: string[] = [];
  for (const edit of [...edits].sort((a, b) => a.start - b.start)) {
    parts.push(text.slice(at, edit.start), edit.text);
    at = edit.end;
  }
  return parts.join('') + text.slice(at);
}

function newTape({ text, tree }: Reading, path: Path, tape: string): TextEdit | undefined {
  const place = locate(tree, [...path, 'tape']);
  if (!place.exact || place.tree?.type !== 'scalar') return undefined;
  const quote = /^["']/.exec(text.slice(place.value.start))?.[0] ?? '';
  return { ...place.value, text: quote + tape + quote };
}

/** What is added at one place: in a session that stands, or as sessions behind one that does. */
interface Sitting {
  readonly start: string;
  readonly blocks: SealLine[];
  /** When the last block of it ended. */
  end: Moment;
}

/** A rest within a sitting is shorter, minutes. */
const longestRest = 120;
/** Where the clocks went back in the night, a block seems to begin so much before its session, minutes. */
const clockChange = 60;

function sessionEdits(reading: Reading, seals: readonly SealLine[], dayStarts: number) {
  const sessions = sessionPaths(reading).map((path) => {
    const start = startAt(reading, path);
    return { start, end: start && later(start, minutesIn(reading, path)) };
  });
  const joined = new Map<number, SealLine[]>();
  const fresh = new Map<number, Sitting[]>();
  const ends = sessions.map(({ end }) => end);
  for (const seal of [...seals].sort((a, b) => order(a.local, b.local))) {
    const moment = parseMoment(seal.local) ?? { date: 0, minute: undefined };
    const minutes = typeof seal.entry.minutes === 'number' ? seal.entry.minutes : 0;
    const at = sessions.findLastIndex(({ start }, index) =>
      sameSitting(start, ends[index], moment, dayStarts),
    );
    if (at >= 0) {
      joined.set(at, [...(joined.get(at) ?? []), seal]);
      ends[at] = later(moment, minutes);
      continue;
    }
    const after = sessions.findLastIndex(({ start }) => start === undefined || !isAfter(start, moment)) + 1;
    const sittings = fresh.get(after) ?? [];
    fresh.set(after, sittings);
    const sitting = sittings.at(-1);
    if (sitting && sameSitting(parseMoment(sitting.start), sitting.end, moment, dayStarts)) {
      sitting.blocks.push(seal);
      sitting.end = later(moment, minutes);
    } else {
      sittings.push({ start: seal.local, blocks: [seal], end: later(moment, minutes) });
    }
  }
  const blocks = [...joined].map(([at, added]) => {
    const path = ['sessions', at, 'blocks'];
    return insertItems(reading, path, listAt(reading, path)?.length ?? 0, added.map(itemOf));
  });
  const whole = [...fresh].map(([after, sittings]) => {
    // Two edits at one place would get in each other's way where the session in front grows, too.
    return insertItems(reading, ['sessions'], after, sittings.map(sessionItem));
  });
  return combined([...blocks, ...whole]);
}

/** Insertions at one place made one, those that come first in front. */
function combined(edits: readonly (TextEdit | undefined)[]): (TextEdit | undefined)[] {
  const result: (TextEdit | undefined)[] = [];
  for (const edit of edits) {
    const at = result.findIndex((other) => edit && other?.start === edit.start && other.end === edit.end);
    const other = result[at];
    if (edit && other) result[at] = { ...other, text: other.text + edit.text };
    else result.push(edit);
  }
  return result;
}

function runEdits(reading: Reading, seals: readonly SealLine[]): (TextEdit | undefined)[] {
  const length = listAt(reading, ['runs'])?.length ?? 0;
  const starts = Array.from({ length }, (_, at) => startAt(reading, ['runs', at]));
  const fresh = new Map<number, SealLine[]>();
  for (const seal of [...seals].sort((a, b) => order(a.local, b.local))) {
    const moment = parseMoment(seal.local);
    const after = starts.findLastIndex((start) => !start || !moment || !isAfter(start, moment)) + 1;
    fresh.set(after, [...(fresh.get(after) ?? []), seal]);
  }
  return [...fresh].map(([after, added]) => insertItems(reading, ['runs'], after, added.map(itemOf)));
}

function itemOf(seal: SealLine): Item {
  const text = entryText(seal.block, seal.entry);
  return { inline: text, lines: [text] };
}

function sessionItem({ start, blocks }: Sitting): Item {
  const written = blocks.map((seal) => entryText(seal.block, seal.entry));
  return {
    inline: `{ start: ${start}, blocks: [${written.join(', ')}] }`,
    lines: [`start: ${start}`, 'blocks:', ...written.map((block) => `  - ${block}`)],
  };
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function isAfter(a: Moment, b: Moment): boolean {
  return a.date > b.date || (a.date === b.date && (a.minute ?? 0) > (b.minute ?? 0));
}

function later({ date, minute }: Moment, minutes: number): Moment {
  if (minute === undefined) return { date, minute };
  const total = minute + minutes;
  return { date: date + Math.floor(total / 1440), minute: total % 1440 };
}

/** Whether a block that began at `moment` is of the sitting, which its day and the rest before it tell. */
function sameSitting(
  start: Moment | undefined,
  end: Moment | undefined,
  moment: Moment,
  dayStarts: number,
): boolean {
  if (!start || !end || dayOf(start, dayStarts) !== dayOf(moment, dayStarts)) return false;
  // Where only dates are written, a day is one sitting.
  if (start.minute === undefined || moment.minute === undefined) return start.minute === moment.minute;
  return between(start, moment) >= -clockChange && between(end, moment) <= longestRest;
}

/** Minutes from one moment to another. */
function between(a: Moment, b: Moment): number {
  return (b.date - a.date) * 1440 + (b.minute ?? 0) - (a.minute ?? 0);
}

function minutesIn(reading: Reading, path: Path): number {
  const length = listAt(reading, [...path, 'blocks'])?.length ?? 0;
  let total = 0;
  for (let at = 0; at < length; at++)
    total += Number(wordAt(reading, [...path, 'blocks', at, 'minutes'])) || 0;
  return total;
}

/** Whether the text after the edits has what was added once, what was removed no more, and else what it had. */
function holds(
  reading: Reading,
  text: string,
  added: readonly string[],
  removed: readonly string[],
  touched: ReadonlySet<string>,
): boolean {
  const after = read(reading.kind, text, reading);
  if (after.problems.length > reading.problems.length) return false;
  const ids = idsOf(after);
  if (!added.every((id) => ids.has(id)) || removed.some((id) => ids.has(id))) return false;
  if (entriesOf(after).length !== entriesOf(reading).length + added.length - removed.length) return false;
  return rest(after, touched) === rest(reading, touched);
}

/** All that a log says apart from some entries. */
function rest({ value }: Reading, without: ReadonlySet<string>): string {
  const { runs, sessions, ...others } = value;
  const keep = (entry: unknown) =>
    typeof entry !== 'object' || entry === null || !('id' in entry) || !without.has(String(entry.id));
  const list = (entries: unknown): unknown[] => (Array.isArray(entries) ? entries.filter(keep) : []);
  // A session of nothing but such entries is one of them.
  const sittings = list(sessions).flatMap((session) => {
    const blocks = typeof session === 'object' && session && 'blocks' in session ? list(session.blocks) : [];
    return blocks.length > 0 ? [{ ...(session as object), blocks }] : [];
  });
  return JSON.stringify([others, list(runs), sittings]);
}
