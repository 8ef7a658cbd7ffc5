/** The cells of one row of a table of practice or runs, by what their columns hold. */
import type { LogEntry } from '../journal/journalLines.ts';
import { numberOrText, pointForComma } from '../tables/cellNumbers.ts';
import { isEntryId } from '../tables/cellWords.ts';
import type { TableRow } from '../tables/splitTable.ts';
import { isIgnored, type Column, type ColumnMeaning } from './logColumns.ts';
import type { WritingProblem } from './logVocabulary.ts';
import type { WrittenTime } from './readRun.ts';

/** What is wrong in a row, in a sentence, and the column of the cell that is wrong, where one is. */
export interface CellProblem {
  readonly problem: string;
  /** Index of the column. */
  readonly column?: number | undefined;
}

/** The cells of a row that are not empty, by what they hold. */
export interface Cells {
  readonly by: ReadonlyMap<ColumnMeaning, string>;
  /** Index of the column of each cell in `by`. */
  readonly columns: ReadonlyMap<ColumnMeaning, number>;
  readonly times: readonly (WrittenTime & { readonly column: number })[];
  readonly results: readonly { readonly technique: string; readonly cell: string; readonly column: number }[];
  /** What an entry of any kind may have besides: notes, and keys of the user's own. */
  readonly also: LogEntry;
}

/** Sorts the cells of a row by what they hold. */
export function cellsOf({ cells }: TableRow, columns: readonly (Column | undefined)[]): Cells | CellProblem {
  const by = new Map<ColumnMeaning, string>();
  const at = new Map<ColumnMeaning, number>();
  const times: Cells['times'][number][] = [];
  const results: Cells['results'][number][] = [];
  const own: Record<string, string | number> = {};
  for (const [index, cell] of cells.entries()) {
    const column = columns[index];
    if (cell === '' || (column && isIgnored(column))) continue;
    if (column === undefined) return { problem: `${cell} stands beyond the last heading.` };
    if (column.holds === 'time of segment')
      times.push({ segment: column.segment, time: pointForComma(cell), column: index });
    else if (column.holds === 'result of technique')
      results.push({ technique: column.technique, cell, column: index });
    else if (column.holds === 'own key') own[column.key] = numberOrText(cell);
    else {
      by.set(column.holds, cell);
      at.set(column.holds, index);
    }
  }
  const id = by.get('id');
  if (id !== undefined && !isEntryId(id))
    return { problem: `An id has letters, digits and hyphens, not ${id}.`, column: at.get('id') };
  const notes = by.get('notes');
  return { by, columns: at, times, results, also: { ...(notes !== undefined && { notes }), ...own } };
}

/** What a reader found wrong, with the column of the cell that holds the part that it names. */
export function inColumn({ problem, part }: WritingProblem, { columns }: Cells): CellProblem {
  return { problem, column: part === undefined || part === 'times' ? undefined : columns.get(part) };
}
