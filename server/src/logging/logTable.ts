/** A table of practice or runs, as the entries of a log that its rows say. */
import type { LogEntry } from '../journal/journalLines.ts';
import { dateOrderOf, readClock, readDateCell, type DateOrder } from '../tables/cellDates.ts';
import { plainCount, pointForComma, readCounts } from '../tables/cellNumbers.ts';
import { splitTable, type TableRow } from '../tables/splitTable.ts';
import { isIgnored, readColumns, type Column, type ColumnMeaning } from './logColumns.ts';
import { knownSegment, knownTechnique, type LogVocabulary, type WritingProblem } from './logVocabulary.ts';
import { blockEntry, readBlock } from './readBlock.ts';
import { readEveningCells } from './eveningCells.ts';
import { readAllTried, readRun } from './readRun.ts';
import { cellsOf, inColumn, type CellProblem, type Cells } from './rowCells.ts';

/** An entry that a row says. */
export interface TableEntry {
  /** Line of the table, from 1. */
  readonly line: number;
  /** The local start: date and time, or the date alone where no time is known. */
  readonly local: string;
  readonly entry: LogEntry;
  /** The id that the row gives it. */
  readonly id?: string;
}

export interface RowProblem {
  readonly line: number;
  /** Heading of the column whose cell is wrong; left out where the row as a whole is. */
  readonly column?: string;
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
  /** What the person can say to have the table read: how dates are written, what a column holds, which one has the date. */
  readonly asks?: 'date order' | 'date column' | { readonly column: string };
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
  if (unknown !== undefined) return { ...unknownColumn(unknown), line: headings.line };
  const holds = (meaning: Column['holds']): boolean => columns.some((column) => column?.holds === meaning);
  const kind = kindOf(holds);
  const belongs = (column: Column): boolean => belongsIn(column, kind, holds);
  if (!holds('start'))
    return {
      problem: 'no column says when: call one date or start',
      asks: 'date column',
      line: headings.line,
    };
  const misplaced = columns.findIndex((column) => column && !isIgnored(column) && !belongs(column));
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
  const entries: TableEntry[] = [];
  const problems: RowProblem[] = [];
  const read = kind === 'practice' ? blocksOf : runOf;
  for (const row of rows) {
    if ((row.cells[startAt] ?? '') === '') {
      problems.push({ line: row.line, column: headings.cells[startAt]!, message: noDate });
      continue;
    }
    const said = rowEntries(row, columns, (cells) => read(cells, order.order, options, words));
    if (!('problem' in said)) entries.push(...said);
    else {
      const heading = said.column === undefined ? undefined : headings.cells[said.column];
      problems.push({ line: row.line, ...(heading && { column: heading }), message: said.problem });
    }
  }
  const unread = headings.cells.filter((heading, at) => {
    const column = columns[at];
    return heading !== '' && (column === undefined || isIgnored(column));
  });
  return { kind, entries, problems, unread };
}

const noDate =
  'No date stands here. Where cells of a spreadsheet are merged, only the first of them holds it: write it into each row.';

function unknownColumn(heading: string): LogTableProblem {
  if (heading === '') return { problem: 'a column without a heading holds something' };
  return {
    problem: `it is not known what the column ${heading} holds`,
    asks: { column: heading },
  };
}

const runColumns: readonly Column['holds'][] = [
  'total',
  'tried',
  'first',
  'ended',
  'time of segment',
  'runs',
  'finished',
];
const blockColumns: readonly Column['holds'][] = [
  'technique',
  'segment',
  'minutes',
  'landed',
  'tries',
  'result',
  'tape',
  'attempts',
  'seen',
];

function kindOf(holds: (meaning: Column['holds']) => boolean): LogTable['kind'] {
  return !holds('technique') && runColumns.some(holds) ? 'runs' : 'practice';
}

/** Whether a table of this kind has a use for a column. */
function belongsIn(
  { holds }: Column,
  kind: LogTable['kind'],
  has: (meaning: Column['holds']) => boolean,
): boolean {
  // A segment that is practised whole has what was tried in it; an evening in short has its minutes.
  if (kind === 'practice') return !runColumns.includes(holds) || (holds === 'tried' && has('segment'));
  return !blockColumns.includes(holds) || (holds === 'minutes' && has('runs'));
}

interface RowEntries {
  readonly local: string;
  readonly entries: readonly LogEntry[];
}

/** @param read what the cells of the row say */
function rowEntries(
  row: TableRow,
  columns: readonly (Column | undefined)[],
  read: (cells: Cells) => RowEntries | CellProblem,
): readonly TableEntry[] | CellProblem {
  const cells = cellsOf(row, columns);
  if ('problem' in cells) return cells;
  const said = read(cells);
  if ('problem' in said) return said;
  const { local, entries } = said;
  const id = cells.by.get('id');
  if (id !== undefined && entries.length > 1)
    return { problem: `The id ${id} is for one entry; this row has several.` };
  return entries.map((entry) => ({ line: row.line, local, entry, ...(id !== undefined && { id }) }));
}

function momentOf({ by, columns }: Cells, order: DateOrder): { readonly moment: string } | CellProblem {
  const read = readDateCell(by.get('start') ?? '', order);
  const clock = by.get('clock');
  if ('problem' in read) return { ...read, column: columns.get('start') };
  if (clock === undefined || read.moment.includes('T')) return read;
  const time = readClock(clock);
  return time === undefined
    ? { problem: `The time of day is one such as 19:30, not ${clock}.`, column: columns.get('clock') }
    : { moment: `${read.moment}T${time}` };
}

function blocksOf(
  cells: Cells,
  order: DateOrder,
  { cycles }: LogTableOptions,
  words: LogVocabulary,
): RowEntries | CellProblem {
  const { by, columns, results, also } = cells;
  const start = momentOf(cells, order);
  if ('problem' in start) return start;
  const named = by.get('technique');
  if (named === undefined && by.has('segment') && results.length === 0)
    return segmentBlockOf(cells, start.moment, words);
  if (by.has('segment') || by.has('tried'))
    return { problem: 'A row is about a technique, or about a segment with what was tried in it.' };
  if (named === undefined && results.length === 0) return { problem: 'No technique is named in this row.' };
  if (results.length > 1 && by.has('minutes'))
    return { problem: 'The minutes of this row cannot be divided among several techniques.' };
  const blocks: {
    readonly technique: string;
    readonly result: string | undefined;
    readonly column?: number;
  }[] = [
    ...(named === undefined ? [] : [{ technique: named, result: by.get('result') }]),
    ...results.map(({ technique, cell, column }) => ({
      technique: technique.split('@')[0]!,
      result: cell,
      column,
    })),
  ];
  const seen = seenOf(cells);
  if (seen && 'problem' in seen) return seen;
  const entries: LogEntry[] = [];
  for (const { technique, result, column = columns.get('result') } of blocks) {
    const id = knownTechnique(technique, words);
    if (typeof id !== 'string') return inColumn({ ...id, part: 'technique' }, cells);
    const counts = countsOf(by, result, column);
    if ('problem' in counts) return counts;
    const numbers = readBlock(
      { ...counts, minutes: mapped(by.get('minutes'), pointForComma), tape: by.get('tape') },
      { table: true },
    );
    if ('problem' in numbers) return inColumn(numbers, cells);
    entries.push({ ...blockEntry(id, numbers, cycles[id] ?? 0, by.get('on')), ...seen, ...also });
  }
  return { local: start.moment, entries };
}

/** A counted sample of a longer block, from a cell such as `6/10`. */
function seenOf({
  by,
  columns,
}: Cells): { readonly seen: readonly [number, number] } | undefined | CellProblem {
  const cell = by.get('seen');
  if (cell === undefined) return undefined;
  const pair = readCounts(cell);
  const [landed, tries] = [Number(pair?.landed), Number(pair?.tries)];
  if (!pair || landed > tries)
    return {
      problem: `What was seen is landed and tries of a part, such as 6 of 10, not ${cell}.`,
      column: columns.get('seen'),
    };
  return { seen: [landed, tries] };
}

/** A block on a segment that was practised whole. */
function segmentBlockOf(cells: Cells, start: string, words: LogVocabulary): RowEntries | CellProblem {
  const { by, also } = cells;
  const segment = knownSegment(by.get('segment')!, words);
  if (typeof segment !== 'string') return inColumn({ ...segment, part: 'segment' }, cells);
  const unfit = (['landed', 'tries', 'result', 'seen', 'tape'] as const).find((key) => by.has(key));
  if (unfit !== undefined)
    return { problem: `A segment that is practised whole has no ${unfit}: tried says what was tried in it.` };
  const numbers = readBlock(
    { attempts: by.get('attempts'), minutes: mapped(by.get('minutes'), pointForComma) },
    { table: true },
  );
  if ('problem' in numbers) return inColumn(numbers, cells);
  const { minutes, attempts } = numbers;
  if (minutes === undefined) return { problem: 'A segment that is practised whole needs its minutes.' };
  const tried = readAllTried(triedParts(by.get('tried')), words);
  if ('problem' in tried) return inColumn({ ...tried, part: 'tried' }, cells);
  const on = by.get('on');
  const entry = {
    segment,
    minutes,
    ...(attempts !== undefined && { attempts }),
    ...(by.has('tried') && { tried: tried.counts }),
    ...(on !== undefined && { on }),
    ...also,
  };
  return { local: start, entries: [entry] };
}

/** The parts of a cell such as `crate-vault=1/2 wall-kick=0/1`. */
function triedParts(cell = ''): string[] {
  return cell.split(/[\s;]+/).filter((part) => part !== '');
}

/** Landed, tries and attempts of a block, from cells of their own or from one with both such as `61/190`. */
function countsOf(
  by: ReadonlyMap<ColumnMeaning, string>,
  result: string | undefined,
  column: number | undefined,
):
  | {
      readonly landed?: string | undefined;
      readonly tries?: string | undefined;
      readonly attempts?: string | undefined;
    }
  | CellProblem {
  const [landed, tries, attempts] = (['landed', 'tries', 'attempts'] as const).map((key) =>
    mapped(by.get(key), plainCount),
  );
  const both = result ?? (landed !== undefined && tries === undefined ? landed : undefined);
  const pair = both === undefined ? undefined : readCounts(both);
  if (result !== undefined && pair === undefined)
    return { problem: `A result is landed and tries such as 61/190, not ${result}.`, column };
  if (pair !== undefined && result !== undefined && (landed !== undefined || tries !== undefined))
    return { problem: 'This row has its counts twice.' };
  return pair === undefined ? { landed, tries, attempts } : { ...pair, attempts };
}

function runOf(
  cells: Cells,
  order: DateOrder,
  _: LogTableOptions,
  words: LogVocabulary,
): RowEntries | CellProblem {
  const { by, times, results, also } = cells;
  const start = momentOf(cells, order);
  if ('problem' in start) return start;
  const tried = triedParts(by.get('tried'));
  const first = triedParts(by.get('first'));
  const triedInCell = tried.length;
  for (const { technique, cell, column } of results) {
    const pair = readCounts(cell);
    if (pair === undefined)
      return {
        problem: `What was tried of ${technique} is landed and tries such as 1/2, not ${cell}.`,
        column,
      };
    tried.push(`${technique}=${pair.landed}/${pair.tries}`);
  }
  // What was tried is read together: the parts of the cell first, then those of the techniques' own columns.
  const columnOf = (said: WritingProblem): CellProblem => {
    const { index = 0, part } = said;
    if (part === 'times') return { problem: said.problem, column: times[index]?.column };
    if (part === 'tried' && index >= triedInCell)
      return { problem: said.problem, column: results[index - triedInCell]?.column };
    return inColumn(said, cells);
  };
  const [total, ended, on, runs, finished] = (['total', 'ended', 'on', 'runs', 'finished'] as const).map(
    (key) => by.get(key),
  );
  if (runs !== undefined) {
    if (total !== undefined || times.length > 0)
      return { problem: 'An evening of several runs has no total and no times of segments.' };
    const minutes = mapped(by.get('minutes'), pointForComma);
    const written = { runs: plainCount(runs), finished: mapped(finished, plainCount), minutes, ended, on };
    const evening = readEveningCells({ ...written, date: start.moment, tried, first }, words);
    if ('problem' in evening) return columnOf(evening);
    return { local: start.moment, entries: [{ ...evening.entry, ...also }] };
  }
  if (finished !== undefined || by.has('minutes'))
    return { problem: 'Only an evening of several runs has minutes and finished: runs says how many began.' };
  const run = readRun({ total: mapped(total, pointForComma), times, tried, first, ended, on }, words, {
    table: true,
  });
  return 'problem' in run
    ? columnOf(run)
    : { local: start.moment, entries: [{ start: start.moment, ...run.entry, ...also }] };
}

function mapped(cell: string | undefined, by: (cell: string) => string): string | undefined {
  return cell === undefined ? undefined : by(cell);
}
