import {
  readLogTable,
  type LogTable,
  type LogTableOptions,
  type LogTableProblem,
} from '../../logging/logTable.ts';
import type { LogVocabulary } from '../../logging/logVocabulary.ts';
import { rowsOf, type Row } from '../../logging/tableRows.ts';
import { decodeTable } from '../../tables/tableText.ts';

/** A table whose entries have ids. */
export interface ImportedTable extends Omit<LogTable, 'entries'> {
  readonly rows: readonly Row[];
}

/** Reads the bytes of a table. Never throws. */
export async function readTable(
  bytes: Uint8Array,
  options: LogTableOptions,
  words: LogVocabulary,
): Promise<ImportedTable | LogTableProblem> {
  const decoded = decodeTable(bytes);
  if ('problem' in decoded) return decoded;
  const table = readLogTable(decoded.text, options, words);
  if ('problem' in table) return table;
  const { kind, problems, unread } = table;
  return { kind, problems, unread, rows: await rowsOf(table) };
}
