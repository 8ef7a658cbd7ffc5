/** What the columns of a table of practice or runs hold. */
import { useName } from '../files/schema/ids.ts';
import { ownKey } from '../tables/cellWords.ts';
import { nameKey } from '../text/nameKey.ts';
import { segmentCalled, techniqueCalled, type LogVocabulary } from './logVocabulary.ts';

/** What a column may hold, as `--columns` names it. `ignored` is said by the user alone. */
export const columnMeanings = [
  'start',
  'clock',
  'technique',
  'segment',
  'minutes',
  'landed',
  'tries',
  'result',
  'tape',
  'attempts',
  'seen',
  'on',
  'total',
  'tried',
  'first',
  'ended',
  'runs',
  'finished',
  'notes',
  'id',
  'ignored',
] as const;
export type ColumnMeaning = (typeof columnMeanings)[number];

/** A column: what it holds, for the technique or the segment that its heading names. */
export type Column =
  | { readonly holds: ColumnMeaning }
  | { readonly holds: 'time of segment'; readonly segment: string }
  /** A key of the user's own, which begins with `x-`. */
  | { readonly holds: 'own key'; readonly key: string }
  /** `technique` is an id, with `@use` behind it where the heading names one of several uses. */
  | { readonly holds: 'result of technique'; readonly technique: string };

/** Headings that people write, as {@link nameKey} spells them. Source: common practice. */
const headings: Readonly<Record<string, ColumnMeaning>> = {
  date: 'start',
  day: 'start',
  when: 'start',
  start: 'start',
  started: 'start',
  'date and time': 'start',
  'start time': 'clock',
  clock: 'clock',
  'time of day': 'clock',
  technique: 'technique',
  segment: 'segment',
  seen: 'seen',
  first: 'first',
  runs: 'runs',
  'runs started': 'runs',
  finished: 'finished',
  'runs finished': 'finished',
  notes: 'notes',
  note: 'notes',
  comment: 'notes',
  comments: 'notes',
  remarks: 'notes',
  id: 'id',
  minutes: 'minutes',
  min: 'minutes',
  mins: 'minutes',
  duration: 'minutes',
  'minutes practised': 'minutes',
  'minutes practiced': 'minutes',
  landed: 'landed',
  hits: 'landed',
  successes: 'landed',
  tries: 'tries',
  tried: 'tried',
  attempts: 'attempts',
  result: 'result',
  'landed/tries': 'result',
  'landed / tries': 'result',
  'landed of tries': 'result',
  tape: 'tape',
  on: 'on',
  device: 'on',
  platform: 'on',
  total: 'total',
  'final time': 'total',
  'total time': 'total',
  'run time': 'total',
  ended: 'ended',
  'ended at': 'ended',
};

/** A heading whose meaning cannot be told; the text is the end of a sentence. */
export interface ColumnProblem {
  readonly problem: string;
}

/**
 * What each column holds; undefined for one whose heading says nothing that is known.
 *
 * @param told by heading, as written or in other capitals: what the user says that its column holds
 */
export function readColumns(
  written: readonly string[],
  told: ReadonlyMap<string, string>,
  words: LogVocabulary,
): readonly (Column | undefined)[] | ColumnProblem {
  const toldByKey = new Map(
    [...told].map(([heading, meaning]) => [headingKey(heading), { heading, meaning }]),
  );
  for (const [key, { heading }] of toldByKey)
    if (!written.some((one) => headingKey(one) === key)) return { problem: `it has no column ${heading}` };
  const columns: (Column | undefined)[] = [];
  for (const heading of written) {
    const asTold = toldByKey.get(headingKey(heading));
    const column = asTold === undefined ? columnOf(heading, words) : columnAsTold(asTold.meaning, words);
    if (asTold !== undefined && column === undefined)
      return {
        problem: `no column can hold ${asTold.meaning}; it can hold ${columnMeanings.join(', ')}, a technique or a segment`,
      };
    columns.push(column);
  }
  const clash = columns.find(
    (column, at) =>
      column && !isIgnored(column) && columns.findIndex((other) => isSame(other, column)) !== at,
  );
  return clash ? { problem: `two columns hold ${describeColumn(clash)}` } : withTries(columns);
}

/** A heading as it is compared with one that the user names; commas are not always told with the space behind them. */
function headingKey(heading: string): string {
  return nameKey(heading.replaceAll(',', ', '));
}

/** Beside a column of landed, attempts are the tries. */
function withTries(columns: readonly (Column | undefined)[]): readonly (Column | undefined)[] {
  const holds = (meaning: ColumnMeaning): boolean => columns.some((column) => column?.holds === meaning);
  if (!holds('landed') || holds('tries')) return columns;
  const tries = holds('attempts') ? 'attempts' : 'tried';
  return columns.map((column) => (column?.holds === tries ? { holds: 'tries' } : column));
}

function columnOf(heading: string, words: LogVocabulary): Column | undefined {
  const own = ownKey(heading);
  if (own !== undefined) return { holds: 'own key', key: own };
  const spelled = heading.toLowerCase().replace(/\s{1,9}/g, ' ');
  const key = Object.hasOwn(headings, spelled)
    ? spelled
    : nameKey(heading.replace(/\s?\([^()]{0,40}\)$/, ''));
  // The route's own words come first: a segment may be called "Total".
  return nameColumn(heading, words) ?? (Object.hasOwn(headings, key) ? { holds: headings[key]! } : undefined);
}

function columnAsTold(meaning: string, words: LogVocabulary): Column | undefined {
  const key = meaning === '-' ? 'ignored' : meaning.toLowerCase();
  const known = columnMeanings.find((one) => one === key);
  if (known !== undefined) return { holds: known };
  return Object.hasOwn(headings, key) ? { holds: headings[key]! } : nameColumn(meaning, words);
}

function nameColumn(heading: string, words: LogVocabulary): Column | undefined {
  const segment = segmentCalled(heading, words);
  if (segment !== undefined) return { holds: 'time of segment', segment };
  const [name = '', use, ...more] = heading.split('@').map((part) => part.trim());
  const technique = techniqueCalled(name, words);
  if (technique === undefined || more.length > 0) return undefined;
  return { holds: 'result of technique', technique: useName(technique, use) };
}

export function isIgnored(column: Column): boolean {
  return column.holds === 'ignored';
}

function isSame(one: Column | undefined, other: Column): boolean {
  return one !== undefined && describeColumn(one) === describeColumn(other);
}

function describeColumn(column: Column): string {
  if (column.holds === 'time of segment') return `the times of ${column.segment}`;
  if (column.holds === 'own key') return column.key;
  return column.holds === 'result of technique' ? `the results of ${column.technique}` : column.holds;
}
