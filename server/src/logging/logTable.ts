/** A table of practice or runs, as the entries of a log that its rows say. */
import type { LogEntry } from '../journal/journalLines.ts';
import { dateOrderOf, readClock, readDateCell, type DateOrder } from '../tables/cellDates.ts';
import { plainCount, pointForComma, readCounts } from '../tables/cellNumbers.ts';
import { splitTable, type TableRow } from '../tables/splitTable.ts';
import { isIgnored, readColumns, type Column, type ColumnMeaning } from './logColumns.ts';
import { knownTechnique, type LogVocabulary, type WritingProblem } from './logVocabulary.ts';
import { blockEntry, readBlock } from './readBlock.ts';
import { readRun, type WrittenTime } from './readRun.ts';

/** An entry that a row says. */
export interface TableEntry {
  /** Line of the table, from 1. */
  readonly line: number;
  /** The local start: date and time, or the date alone where no time is known. */
  readonly local: string;
  readonly entry: LogEntry;
}

export interface RowProblem {
  readonly line: number;
  readonly message: string;
}

export interface LogTable {
  readonly kind: 'practice' | 'runs';
  readonly entries: readonly TableEntry[];
  readonly problems: readonly RowProblem[];
  /** Headings of the columns that nothing is read from: empty ones, and those that the user has ignored. */
  readonly unread: readonly string[];
}

export interface LogTableOptions {
  /** Heading → what its column holds, where the heading does not say it. */
  readonly columns: ReadonlyMap<string, string>;
  /** Which of two small numbers of a date is the day, where the table alone does not say it. */
  readonly dates?: DateOrder | undefined;
  /** By technique: seconds from one attempt to the next, for blocks that nobody timed. */
  readonly cycles: Readonly<Record<string, number>>;
}

/** What keeps the whole table from being read, as the end of a sentence. */
export interface LogTableProblem {
  readonly problem: string;
  readonly line?: number;
}

/**
 * Reads a table below a row of headings: blocks where a column names the technique or each technique has a column, else
 * runs. Every cell that is not empty is read, or is a problem. Never throws.
 */
export function readLogTable(
  text: string,
  options: LogTableOptions,
  words: LogVocabulary,
): LogTable | LogTableProblem {
  const split = splitTable(text);
  if ('problem' in split) return split;
  const { headings, rows } = split;
  const columns = readColumns(headings.cells, options.columns, words);
  if ('problem' in columns) return { ...columns, line: headings.line };
  const holdsData = (at: number): boolean => rows.some(({ cells }) => (cells[at] ?? '') !== '');
  const unknown = headings.cells.find((_, at) => columns[at] === undefined && holdsData(at));
  if (unknown !== undefined) return { problem: unknownColumn(unknown), line: headings.line };
  const holds = (meaning: Column['holds']): boolean => columns.some((column) => column?.holds === meaning);
  const kind = kindOf(holds);
  if (!holds('start'))
    return {
      problem: 'no column says when: call one date or start, or say which with --columns "HEADING=start"',
      line: headings.line,
    };
  const misplaced = columns.findIndex((column) => column && !isIgnored(column) && !belongs(column, kind));
  if (misplaced >= 0 && holdsData(misplaced))
    return {
      problem: `a table of ${kind} has no use for its column ${headings.cells[misplaced]!}`,
      line: headings.line,
    };
  const startAt = columns.findIndex((column) => column?.holds === 'start');
  const order = dateOrderOf(
    rows.map(({ cells }) => cells[startAt] ?? ''),
    options.dates,
  );
  if ('problem' in order) return order;
  const read = kind === 'practice' ? blocksOf : runOf;
  const entries: TableEntry[] = [];
  const problems: RowProblem[] = [];
  for (const row of rows) {
    const cells = cellsOf(row, columns);
    const answer = 'problem' in cells ? cells : read(cells, order.order, options, words);
    if ('problem' in answer) problems.push({ line: row.line, message: answer.problem });
    else entries.push(...answer.entries.map((entry) => ({ line: row.line, local: answer.local, entry })));
  }
  const unread = headings.cells.filter((heading, at) => {
    const column = columns[at];
    return heading !== '' && (column === undefined || isIgnored(column));
  });
  return { kind, entries, problems, unread };
}

function unknownColumn(heading: string): string {
  return heading === ''
    ? 'a column without a heading holds something'
    : `it is not known what the column ${heading} holds: say it with --columns "${heading}=MEANING", or "${heading}=ignored" to leave it out`;
}

const runColumns: readonly Column['holds'][] = ['total', 'tried', 'ended', 'time of segment'];
const blockColumns: readonly Column['holds'][] = [
  'technique',
  'minutes',
  'landed',
  'tries',
  'result',
  'tape',
  'attempts',
];

function kindOf(holds: (meaning: Column['holds']) => boolean): LogTable['kind'] {
  return !holds('technique') && runColumns.some(holds) ? 'runs' : 'practice';
}

function belongs({ holds }: Column, kind: LogTable['kind']): boolean {
  return !(kind === 'practice' ? runColumns : blockColumns).includes(holds);
}

/** The cells of a row that are not empty, by what they hold. */
interface Cells {
  readonly by: ReadonlyMap<ColumnMeaning, string>;
  readonly times: readonly WrittenTime[];
  readonly results: readonly { readonly technique: string; readonly cell: string }[];
}

function cellsOf({ cells }: TableRow, columns: readonly (Column | undefined)[]): Cells | WritingProblem {
  const by = new Map<ColumnMeaning, string>();
  const times: WrittenTime[] = [];
  const results: { technique: string; cell: string }[] = [];
  for (const [at, cell] of cells.entries()) {
    const column = columns[at];
    if (cell === '' || (column && isIgnored(column))) continue;
    if (column === undefined) return { problem: `${cell} stands beyond the last heading.` };
    if (column.holds === 'time of segment')
      times.push({ segment: column.segment, time: pointForComma(cell) });
    else if (column.holds === 'result of technique') results.push({ technique: column.technique, cell });
    else by.set(column.holds, cell);
  }
  return { by, times, results };
}

interface RowEntries {
  readonly local: string;
  readonly entries: readonly LogEntry[];
}

function momentOf({ by }: Cells, order: DateOrder): { readonly moment: string } | WritingProblem {
  const read = readDateCell(by.get('start') ?? '', order);
  const clock = by.get('clock');
  if ('problem' in read || clock === undefined || read.moment.includes('T')) return read;
  const time = readClock(clock);
  return time === undefined
    ? { problem: `The time of day is one such as 19:30, not ${clock}.` }
    : { moment: `${read.moment}T${time}` };
}

function blocksOf(
  cells: Cells,
  order: DateOrder,
  { cycles }: LogTableOptions,
  words: LogVocabulary,
): RowEntries | WritingProblem {
  const { by, results } = cells;
  const start = momentOf(cells, order);
  if ('problem' in start) return start;
  const named = by.get('technique');
  if (named === undefined && results.length === 0) return { problem: 'No technique is named in this row.' };
  if (results.length > 1 && by.has('minutes'))
    return { problem: 'The minutes of this row cannot be divided among several techniques.' };
  const blocks: { readonly technique: string; readonly result: string | undefined }[] = [
    ...(named === undefined ? [] : [{ technique: named, result: by.get('result') }]),
    ...results.map(({ technique, cell }) => ({ technique: technique.split('@')[0]!, result: cell })),
  ];
  const entries: LogEntry[] = [];
  for (const { technique, result } of blocks) {
    const id = knownTechnique(technique, words);
    if (typeof id !== 'string') return id;
    const counts = countsOf(by, result);
    if ('problem' in counts) return counts;
    const numbers = readBlock(
      { ...counts, minutes: mapped(by.get('minutes'), pointForComma), tape: by.get('tape') },
      { table: true },
    );
    if ('problem' in numbers) return numbers;
    entries.push(blockEntry(id, numbers, cycles[id] ?? 0, by.get('on')));
  }
  return { local: start.moment, entries };
}

/** Landed, tries and attempts of a block, from cells of their own or from one with both such as `61/190`. */
function countsOf(
  by: ReadonlyMap<ColumnMeaning, string>,
  result: string | undefined,
):
  | {
      readonly landed?: string | undefined;
      readonly tries?: string | undefined;
      readonly attempts?: string | undefined;
    }
  | WritingProblem {
  const [landed, tries, attempts] = (['landed', 'tries', 'attempts'] as const).map((key) =>
    mapped(by.get(key), plainCount),
  );
  const both = result ?? (landed !== undefined && tries === undefined ? landed : undefined);
  const pair = both === undefined ? undefined : readCounts(both);
  if (result !== undefined && pair === undefined)
    return { problem: `A result is landed and tries such as 61/190, not ${result}.` };
  if (pair !== undefined && result !== undefined && (landed !== undefined || tries !== undefined))
    return { problem: 'This row has its counts twice.' };
  return pair === undefined ? { landed, tries, attempts } : { ...pair, attempts };
}

function runOf(
  cells: Cells,
  order: DateOrder,
  _: LogTableOptions,
  words: LogVocabulary,
): RowEntries | WritingProblem {
  const { by, times, results } = cells;
  const start = momentOf(cells, order);
  if ('problem' in start) return start;
  const tried = (by.get('tried') ?? '').split(/[\s;]+/).filter((part) => part !== '');
  for (const { technique, cell } of results) {
    const pair = readCounts(cell);
    if (pair === undefined)
      return { problem: `What was tried of ${technique} is landed and tries such as 1/2, not ${cell}.` };
    tried.push(`${technique}=${pair.landed}/${pair.tries}`);
  }
  const [total, ended, on] = (['total', 'ended', 'on'] as const).map((key) => by.get(key));
  const run = readRun({ total: mapped(total, pointForComma), times, tried, ended, on }, words, {
    table: true,
  });
  return 'problem' in run ? run : { local: start.moment, entries: [{ start: start.moment, ...run.entry }] };
}

function mapped(cell: string | undefined, by: (cell: string) => string): string | undefined {
  return cell === undefined ? undefined : by(cell);
}
