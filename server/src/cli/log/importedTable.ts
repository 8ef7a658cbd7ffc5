import { createHash } from 'node:crypto';
import type { LogEntry } from '../../journal/journalLines.ts';
import {
  readLogTable,
  type LogTable,
  type LogTableOptions,
  type LogTableProblem,
  type TableEntry,
} from '../../logging/logTable.ts';
import type { LogVocabulary } from '../../logging/logVocabulary.ts';
import { decodeTable } from '../../tables/tableText.ts';

/** An entry of a table, with the id under which it goes into the log. */
export interface Row extends TableEntry {
  readonly id: string;
}

/** A table whose entries have ids. */
export interface ImportedTable extends Omit<LogTable, 'entries'> {
  readonly rows: readonly Row[];
}

/** Reads the bytes of a table. Never throws. */
export function readTable(
  bytes: Uint8Array,
  options: LogTableOptions,
  words: LogVocabulary,
): ImportedTable | LogTableProblem {
  const decoded = decodeTable(bytes);
  if ('problem' in decoded) return decoded;
  const table = readLogTable(decoded.text, options, words);
  if ('problem' in table) return table;
  const { entries, ...rest } = table;
  return { ...rest, rows: entries.map((entry) => ({ ...entry, id: entry.id ?? idOf(table.kind, entry) })) };
}

/** An id made from what the row says: the same row always gets the same one, so importing a table again adds nothing twice. */
function idOf(kind: LogTable['kind'], { local, entry }: TableEntry): string {
  const said = kind === 'practice' ? entry : runInFixedOrder(entry);
  const hash = createHash('sha256')
    .update(JSON.stringify([local, said]))
    .digest('hex');
  return `${kind === 'practice' ? 'b' : 'r'}-${hash.slice(0, 12)}`;
}

/** A run with its keys in the order from which ids have always been made. */
function runInFixedOrder({ start, times, total, ...rest }: LogEntry): LogEntry {
  return { start, ...(times !== undefined && { times }), ...(total !== undefined && { total }), ...rest };
}
