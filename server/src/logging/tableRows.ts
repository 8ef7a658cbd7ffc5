/** The rows of a table of practice or runs, with the ids under which they go into the log. */
import type { LogEntry } from '../journal/journalLines.ts';
import type { JournalState } from '../journal/journalState.ts';
import { logEntryIds } from '../journal/logEntries.ts';
import type { Reading } from '../files/reading/reading.ts';
import { parseMoment, runnerDayOf } from '../text/calendar.ts';
import type { LogTable, RowProblem, TableEntry } from './logTable.ts';

/** An entry of a table, with the id under which it goes into the log. */
export interface Row extends TableEntry {
  readonly id: string;
}

/**
 * Gives each entry of a table its id: the row's own, else one made from what the row says. The same row always gets the
 * same one, so that taking a table in again adds nothing twice.
 */
export function rowsOf({ kind, entries }: LogTable): Promise<Row[]> {
  return Promise.all(entries.map(async (entry) => ({ ...entry, id: entry.id ?? (await idOf(kind, entry)) })));
}

async function idOf(kind: LogTable['kind'], { local, entry }: TableEntry): Promise<string> {
  const said = kind === 'practice' ? entry : runInFixedOrder(entry);
  const bytes = new TextEncoder().encode(JSON.stringify([local, said]));
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  const digits = [...hash].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return `${kind === 'practice' ? 'b' : 'r'}-${digits.slice(0, 12)}`;
}

/** A run with its keys in the order from which ids have always been made. */
function runInFixedOrder({ start, times, total, ...rest }: LogEntry): LogEntry {
  return { start, ...(times !== undefined && { times }), ...(total !== undefined && { total }), ...rest };
}

/** The log that rows may be in already. */
export interface KnownLog {
  readonly reading: Reading;
  /** What its journal holds; undefined where that cannot be read. */
  readonly state: JournalState | undefined;
  /** Minutes after midnight at which the runner's day begins. */
  readonly dayStarts: number;
  /** A new id for a row whose own cannot be used again. */
  readonly newId: () => string;
}

/** Separates new rows from those that are already in the log, in its journal or earlier in the table. */
export function separateDuplicates(
  rows: readonly Row[],
  { reading, state, dayStarts, newId }: KnownLog,
): { readonly fresh: readonly Row[]; readonly refused: readonly RowProblem[] } {
  const ids = new Set([
    ...logEntryIds(reading),
    ...(state?.open.flatMap(({ id, gone }) => (gone ? [] : [id])) ?? []),
    ...[...(state?.sealed ?? [])].flatMap(([id, { seal, state: at }]) =>
      at === 'sealed' && !seal.gone && !state?.undoneAfterSeal.has(id) ? [id] : [],
    ),
  ]);
  // Ids that cannot be used again, because their entries were taken back or deleted: the same row needs another id.
  const unusableIds = new Set([...(state?.open.map(({ id }) => id) ?? []), ...(state?.sealed.keys() ?? [])]);
  const contents = new Set(contentKeys(reading.value, dayStarts));
  const seen = new Map<string, number>();
  const fresh: Row[] = [];
  const refused: RowProblem[] = [];
  for (const row of rows) {
    const earlier = seen.get(row.id);
    if (earlier !== undefined) refused.push({ line: row.line, message: `the same as line ${earlier}` });
    else if (ids.has(row.id) || contents.has(contentKey(row.local, row.entry, dayStarts)))
      refused.push({ line: row.line, message: 'stands in the log already' });
    else
      fresh.push(
        unusableIds.has(row.id) ? { ...row, id: `${row.id.slice(0, 2)}${newId().slice(0, 12)}` } : row,
      );
    if (earlier === undefined) seen.set(row.id, row.line);
  }
  return { fresh, refused };
}

/** Keys of the contents of a log's entries, each with its day. */
function contentKeys(value: Readonly<Record<string, unknown>>, dayStarts: number): string[] {
  const list = (entries: unknown) => (Array.isArray(entries) ? (entries as Record<string, unknown>[]) : []);
  const blocks = list(value.sessions).flatMap((session) =>
    list(session.blocks).map((block) => contentKey(String(session.start), block, dayStarts)),
  );
  return [...blocks, ...list(value.runs).map((run) => contentKey(String(run.start), run, dayStarts))];
}

/** A key that is equal for entries of one day with the same content. A run's start is part of its content. */
function contentKey(start: string, entry: Readonly<Record<string, unknown>>, dayStarts: number): string {
  const moment = parseMoment(start);
  const day = moment && runnerDayOf(moment, dayStarts);
  const keys = Object.keys(entry).filter((key) => key !== 'id' && key !== 'notes' && !key.startsWith('x-'));
  return JSON.stringify([day, ...keys.sort().map((key) => [key, entry[key]])]);
}
