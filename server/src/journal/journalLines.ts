import { isMap } from '../files/yaml/value.ts';
import { parseMoment } from '../text/calendar.ts';

/**
 * The lines of a journal: one JSON object each. Every line names what it is about, so that lines of several writers can
 * be read in any order, and the same line found twice counts once.
 */
export type JournalLine = StartLine | AttemptLine | UndoLine | EndLine | EntryLine | FlushLine;

interface LineBase {
  /** Unique among all lines of all writers. */
  readonly id: string;
  /** When it was written: milliseconds since 1970 by the system's clock, which may be set back. */
  readonly at: number;
}

interface TechniqueLine extends LineBase {
  readonly block: string;
  readonly technique: string;
  /** The same moment by the runner's own clock, such as `2026-10-05T19:30`. */
  readonly local: string;
}

export interface StartLine extends TechniqueLine {
  readonly kind: 'start';
}

export interface AttemptLine extends TechniqueLine {
  readonly kind: 'attempt';
  readonly landed: boolean;
}

/** Takes back an attempt or a whole entry. */
export interface UndoLine extends LineBase {
  readonly kind: 'undo';
  readonly of: string;
}

/** A block's end, with [landed, tries] where they were counted and not logged one by one. */
export interface EndLine extends LineBase {
  readonly kind: 'end';
  readonly block: string;
  readonly counts?: readonly [landed: number, tries: number];
  /** Only with counts: as in {@link EntryLine}. */
  readonly after?: string;
  /** Milliseconds since the block began in which it was paused: they are no practice. */
  readonly paused?: number;
}

/** A block or a run that was logged whole; its id stands in the file, too. */
export interface EntryLine extends LineBase {
  readonly kind: 'entry';
  readonly local: string;
  readonly entry: LogEntry;
  /**
   * Id of what was logged before it, so that undo goes back in order; `''` for nothing. Undo passes over an entry
   * without.
   */
  readonly after?: string;
  /** The import that it came with: undo takes back a whole import at once. */
  readonly batch?: string;
}

/** Keys and values as they are written into the file, without the id. */
export type LogEntry = Readonly<Record<string, unknown>>;

/** What a flush has to remember; written only under the lock. */
export type FlushLine = SealLine | MarkLine;

/**
 * From here on the entry `block` stands for these attempts and no others: an attempt that comes in later for the same
 * block becomes an entry of its own and is neither lost nor counted twice.
 */
export interface SealLine extends LineBase {
  readonly kind: 'seal';
  readonly block: string;
  readonly local: string;
  readonly entry: LogEntry;
  readonly attempts: readonly string[];
  readonly undone: readonly string[];
  /** Tapes that the entry may have in the file, from before an attempt was taken back. */
  readonly from?: readonly string[];
  /** A saved file has held it: where it is missing now, the user took it out. */
  readonly known?: true;
  /** As in {@link EntryLine}. */
  readonly after?: string;
  readonly batch?: string;
  /** When the last line of it was written: milliseconds since 1970. */
  readonly last?: number;
  /** The entry was taken back as a whole. */
  readonly gone?: true;
}

/** `saved`: the saved file holds the entry. `dropped`: the user took it out; it is never put into the file again. */
export interface MarkLine extends LineBase {
  readonly kind: 'saved' | 'dropped';
  readonly block: string;
  /** Id of the seal that it is about: a later seal of the same entry is not settled by it. Left out: of any. */
  readonly seal?: string;
}

export function isFlushLine(line: JournalLine): line is FlushLine {
  return line.kind === 'seal' || line.kind === 'saved' || line.kind === 'dropped';
}

/**
 * A line as it is written. The line feed before it keeps it apart from a line that a full disk or a power cut left
 * torn; the empty lines that come of it mean nothing.
 */
export function encodeLine(line: JournalLine): string {
  return `\n${JSON.stringify(line)}\n`;
}

export interface DecodedLines {
  readonly lines: readonly JournalLine[];
  /** What is not a whole line of a journal, as it was found. */
  readonly torn: readonly string[];
}

/** Reads what writers wrote. Never throws: what is no line of a journal is listed and passed over. */
export function decodeLines(text: string): DecodedLines {
  const lines: JournalLine[] = [];
  const torn: string[] = [];
  for (const part of text.split('\n')) {
    if (part === '') continue;
    const line = parseLine(part);
    if (line) lines.push(line);
    else torn.push(part);
  }
  return { lines, torn };
}

function parseLine(text: string): JournalLine | undefined {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return undefined;
  }
  return isLine(value) ? value : undefined;
}

type Check = (value: unknown) => boolean;

const word: Check = (value) => typeof value === 'string' && value !== '';
const text: Check = (value) => typeof value === 'string';
/** It is written into the log as it is. */
const moment: Check = (value) => typeof value === 'string' && parseMoment(value) !== undefined;
const words: Check = (value) => Array.isArray(value) && value.every(word);
const maybe =
  (check: Check): Check =>
  (value) =>
    value === undefined || check(value);
const pair: Check = (value) =>
  Array.isArray(value) && value.length === 2 && value.every((count) => Number.isInteger(count) && count >= 0);
const onTechnique = { block: word, technique: word, local: moment };

const lineShapes: Readonly<Record<JournalLine['kind'], Readonly<Record<string, Check>>>> = {
  start: onTechnique,
  attempt: { ...onTechnique, landed: (value) => typeof value === 'boolean' },
  undo: { of: word },
  end: {
    block: word,
    counts: maybe(pair),
    after: maybe(text),
    paused: maybe((value) => typeof value === 'number' && value >= 0 && Number.isFinite(value)),
  },
  entry: { local: moment, entry: isMap, after: maybe(text), batch: maybe(word) },
  seal: {
    block: word,
    local: moment,
    entry: isMap,
    attempts: words,
    undone: words,
    from: maybe((value) => Array.isArray(value) && value.every((tape) => typeof tape === 'string')),
    after: maybe(text),
    batch: maybe(word),
    last: maybe(Number.isFinite),
    known: maybe((value) => value === true),
    gone: maybe((value) => value === true),
  },
  saved: { block: word, seal: maybe(word) },
  dropped: { block: word, seal: maybe(word) },
};

function isLine(fields: unknown): fields is JournalLine {
  if (!isMap(fields)) return false;
  if (!word(fields.id) || !Number.isFinite(fields.at)) return false;
  const { kind } = fields;
  if (typeof kind !== 'string' || !Object.hasOwn(lineShapes, kind)) return false;
  return Object.entries(lineShapes[kind as JournalLine['kind']]).every(([key, check]) => check(fields[key]));
}
