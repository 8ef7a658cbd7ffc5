/** The rows of one table, each with its cells by what they hold. */
import { splitTable } from '../tables/splitTable.ts';
import { isNothing, isSpreadsheetError } from './cellValues.ts';
import {
  type HeadingProblem,
  type RouteMeaning,
  type RouteTableKind,
  readRouteColumns,
} from './routeColumns.ts';

/** A table as it was given: its text and what people call it. */
export interface SourceTable {
  /** Name of its file, or what the editor calls what was pasted. */
  readonly name: string;
  readonly text: string;
}

/** A place in a table and what is wrong there, in a whole sentence. */
export interface TableFault {
  readonly table: string;
  /** From 1; left out where it is about the whole table. */
  readonly line?: number;
  /** The heading of the column. */
  readonly column?: string;
  readonly message: string;
  /** What the user may say of columns to mend it, as `HEADING=MEANING`. */
  readonly ways?: readonly string[];
  /** The heading of a column of which nobody knows what it holds, where that is what is wrong. */
  readonly unknownColumn?: string;
}

export interface Cell {
  readonly text: string;
  readonly heading: string;
  readonly percent: boolean;
}

export interface RouteRow {
  readonly table: string;
  readonly line: number;
  readonly cells: ReadonlyMap<RouteMeaning, Cell>;
}

export interface RouteRows {
  readonly kind: RouteTableKind;
  readonly rows: readonly RouteRow[];
  readonly faults: readonly TableFault[];
  /** Headings of columns from which nothing is read, because they are empty or the user says so. */
  readonly unread: readonly string[];
  /** All headings, as written. */
  readonly headings: readonly string[];
}

/** Rows that sum up the others, as spreadsheets have them below. */
const sums = ['total', 'totals', 'sum', 'all', 'overall'];

/**
 * Divides a table into rows of known cells, in the order of its column of numbers where it has one. Every cell that is
 * not empty is kept, or is a fault. Never throws.
 *
 * @param told by heading: what the user says that its column holds
 */
export function readRouteRows(
  { name: table, text }: SourceTable,
  told: ReadonlyMap<string, string>,
): RouteRows | { readonly faults: readonly TableFault[] } {
  const split = splitTable(text);
  if ('problem' in split) return { faults: [cannotRead({ table, line: split.line }, split)] };
  const { headings, rows: written } = split;
  const at = { table, line: headings.line };
  const read = readRouteColumns(headings.cells, told);
  if ('problem' in read) return { faults: [cannotRead(at, read)] };
  const { kind, columns } = read;
  const unknown = columns.filter(
    ({ holds }, index) => holds === undefined && written.some(({ cells }) => (cells[index] ?? '') !== ''),
  );
  if (unknown.length > 0)
    return { faults: unknown.map(({ heading }) => ({ ...at, ...unknownColumn(heading) })) };
  const faults: TableFault[] = [];
  const rows = written.flatMap(({ line, cells }): RouteRow[] => {
    const known = new Map<RouteMeaning, Cell>();
    for (const [index, cell] of cells.entries()) {
      const column = columns[index];
      if (column?.holds === 'ignored' || cell === '' || (isNothing(cell) && column?.holds !== 'name'))
        continue;
      if (column?.holds === undefined)
        faults.push({ table, line, message: `${cell} stands beyond the last heading.` });
      else if (isSpreadsheetError(cell))
        faults.push({
          table,
          line,
          column: column.heading,
          message: `The spreadsheet could not work this cell out: ${cell}.`,
        });
      else known.set(column.holds, { text: cell, heading: column.heading, percent: column.percent });
    }
    return known.size === 0 ? [] : [{ table, line, cells: known }];
  });
  const last = rows.at(-1);
  const lastName = last?.cells.get('name')?.text.toLowerCase().replace(/:$/, '');
  if (last && rows.length > 2 && lastName !== undefined && sums.includes(lastName))
    faults.push({
      table,
      line: last.line,
      message: `${last.cells.get('name')!.text} seems to sum up the rows above it. Take it out of the table, or give the row its full name.`,
    });
  const ordered = inOrder(rows);
  if ('fault' in ordered) faults.push(ordered.fault);
  return {
    kind,
    rows: 'fault' in ordered ? rows : ordered.rows,
    faults,
    unread: columns.flatMap(({ heading, holds }) =>
      heading !== '' && (holds === undefined || holds === 'ignored') ? [heading] : [],
    ),
    headings: headings.cells,
  };
}

function cannotRead(
  { table, line }: Pick<TableFault, 'table' | 'line'>,
  { problem, ways }: HeadingProblem,
): TableFault {
  return {
    table,
    ...(line !== undefined && { line }),
    message: `It cannot be read: ${problem}.`,
    ...(ways && { ways }),
  };
}

function unknownColumn(heading: string): Pick<TableFault, 'message' | 'ways' | 'unknownColumn'> {
  if (heading === '')
    return { message: 'A column without a heading holds something. Give it a heading, or empty it.' };
  return {
    message: `It is not known what the column ${heading} holds.`,
    ways: [`${heading}=MEANING`, `${heading}=ignored`],
    unknownColumn: heading,
  };
}

/** The rows by their numbers, where each has one; a number is a fault where it is none, or stands twice. */
function inOrder(
  rows: readonly RouteRow[],
): { readonly rows: readonly RouteRow[] } | { readonly fault: TableFault } {
  if (!rows.some(({ cells }) => cells.has('order'))) return { rows };
  const numbers = new Map<RouteRow, number>();
  const taken = new Set<number>();
  for (const row of rows) {
    const cell = row.cells.get('order');
    const number = cell && /^\d{1,6}[.)]?$/.test(cell.text) ? Number.parseInt(cell.text, 10) : undefined;
    if (number === undefined || taken.has(number))
      return {
        fault: {
          table: row.table,
          line: row.line,
          ...(cell && { column: cell.heading }),
          message: orderProblem(cell, number),
        },
      };
    numbers.set(row, number);
    taken.add(number);
  }
  return { rows: [...rows].sort((a, b) => numbers.get(a)! - numbers.get(b)!) };
}

function orderProblem(cell: Cell | undefined, number: number | undefined): string {
  if (number !== undefined) return `The number ${number} stands twice.`;
  if (!cell) return 'This row has no number, and others have one.';
  return `The number of a row is a whole number such as 3, not ${cell.text}.`;
}
