import { parseMoment, formatDate, type Moment } from '../text/calendar.ts';
import { listLengthAt } from '../files/edit/valueAt.ts';
import { readSource, type Reading } from '../files/reading/reading.ts';
import { maxFileBytes } from '../files/reading/unread.ts';
import { locate } from '../files/yaml/tree.ts';
import { isAfter } from './addEdits.ts';
import type { SealLine } from './journalLines.ts';
import { startMomentAt } from './logEntries.ts';

// A log that is ten years long takes seconds to parse, and an entry mostly goes to its end. So the long stretch of older
// entries before the last ones is left out, where each of them has a form that can be told to be whole by looking
// at it alone. Such a text is a list item wherever one list item begins, so that what is before and
// behind them is read as it is read with them between.

/** A log without some of its older entries. */
export interface LogExcerpt {
  readonly reading: Reading;
  /** Offset at which entries are left out. */
  readonly at: number;
  /** How many characters are left out there. */
  readonly length: number;
}

/** So many sessions or runs at the end of a log are read. */
const lastItems = 40;
/** With fewer characters to leave out, the whole log is read. */
const worthLeavingOut = 20_000;
/** With more entries to write, the whole log is read. */
const mostSeals = 16;

/** How a list item begins, as this tool writes it. */
const beginnings = { practice: '\n  - start: ', runs: '\n  - { ' } as const;

const plain = String.raw`(?:[\p{L}\p{N}](?:[\p{L}\p{N}_.@/+ -]|:(?=[\p{L}\p{N}]))*|"[^"\\\n]*")`;
const list = listOf(String.raw`\[`, plain, String.raw`\]`);
const key = String.raw`[A-Za-z][\w@-]*`;
const simple = `(?:${plain}|${list})`;
const inner = String.raw`(?:\{\}|${listOf(String.raw`\{ `, `${key}: (?:${simple}|${listOf(String.raw`\{ `, `${key}: ${simple}`, String.raw` \}`)})`, String.raw` \}`)})`;
const braces = listOf(String.raw`\{ `, `${key}: (?:${simple}|${inner})`, String.raw` \}`);

/**
 * A list item that is whole: nothing that it opens goes on behind it. Made only for a long log: to make one takes a tenth
 * of the processor time in which a block is logged into a short one.
 */
export const wholeItem = {
  practice: () =>
    new RegExp(
      ` {2}- start: [\\d T:-]+\\n(?: {4}notes: ${plain}\\n)? {4}blocks:\\n(?: {6}- ${braces}\\n)+`,
      'uy',
    ),
  runs: () => new RegExp(` {2}- ${braces}\\n`, 'uy'),
} as const;

/** Items with commas between, as a part of an expression. */
function listOf(open: string, item: string, close: string): string {
  return `${open}${item}(?:, ${item})*${close}`;
}

/**
 * What has to be read of a log to put entries into it; undefined where all of it has to be.
 *
 * @param seals the entries to put into it
 */
export function logExcerpt(
  kind: 'practice' | 'runs',
  text: string,
  seals: readonly SealLine[],
): LogExcerpt | undefined {
  if (seals.length > mostSeals || text.length < worthLeavingOut || text.length > maxFileBytes)
    return undefined;
  const cut = wholeStretch(kind, text);
  if (!cut || cut.end - cut.start < worthLeavingOut) return undefined;
  const leftOut = text.slice(cut.start, cut.end);
  const moments = seals.map(({ local }) => parseMoment(local));
  if (!seals.every(({ block }, i) => !leftOut.includes(block) && isOnOtherDay(leftOut, moments[i])))
    return undefined;
  const reading = readSource(kind, text.slice(0, cut.start) + text.slice(cut.end));
  const excerpt = { reading, at: cut.start, length: cut.end - cut.start };
  return endsInItems(excerpt, kind === 'runs' ? 'runs' : 'sessions', moments) ? excerpt : undefined;
}

/** The longest stretch of whole items right before the last ones; undefined where there is none. */
function wholeStretch(kind: 'practice' | 'runs', text: string): { start: number; end: number } | undefined {
  const [beginning, whole] = [beginnings[kind], wholeItem[kind]()];
  let end = text.length;
  for (let items = 0; items < lastItems && end > 0; items++) end = text.lastIndexOf(beginning, end - 1);
  const next = (from: number): number => text.indexOf(beginning, from) + 1;
  let start = next(0);
  if (end <= 0 || start === 0) return undefined;
  end += 1;
  for (let at = start; at < end;) {
    whole.lastIndex = at;
    if (whole.test(text)) at = whole.lastIndex;
    else start = at = next(at);
  }
  return { start, end };
}

/** Whether no session of a text began about the day of a moment. */
function isOnOtherDay(text: string, moment: Moment | undefined): boolean {
  return moment !== undefined && [-1, 0, 1].every((by) => !text.includes(formatDate(moment.date + by)));
}

/**
 * Whether an item of the log's list begins where entries are left out, so that those are items of it, too; and whether
 * each entry goes behind one of the items that follow.
 */
function endsInItems(
  { reading, at }: LogExcerpt,
  list: 'sessions' | 'runs',
  moments: readonly (Moment | undefined)[],
): boolean {
  const last = Array.from({ length: listLengthAt(reading, [list]) ?? 0 }, (_, i) => [list, i]).slice(
    -lastItems,
  );
  const [first] = last;
  if (!first || locate(reading.tree, first).value.start !== at + '  - '.length) return false;
  const starts = last.map((path) => startMomentAt(reading, path));
  return moments.every((moment) => starts.some((start) => !start || !moment || !isAfter(start, moment)));
}
