import { createHash } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { parseMoment } from '../../text/calendar.ts';
import type { LogEntry } from '../../journal/journalLines.ts';
import { knownTechnique, type WritingProblem } from '../../logging/logVocabulary.ts';
import { blockEntry, readBlock } from '../../logging/readBlock.ts';
import { readRun, type WrittenTime } from '../../logging/readRun.ts';
import type { LogTarget } from './logTarget.ts';

/** A row of a table, as an entry of a log. */
export interface Row {
  /** Line of the table, from 1. */
  readonly line: number;
  readonly id: string;
  /** The local start: date and time, or the date alone where no time is known. */
  readonly local: string;
  readonly entry: LogEntry;
}

export interface RowProblem {
  readonly line: number;
  readonly message: string;
}

export interface Table {
  readonly kind: 'practice' | 'runs';
  readonly rows: readonly Row[];
  readonly problems: readonly RowProblem[];
  /** Columns that are ignored. */
  readonly ignored: readonly string[];
}

const practiceNumbers = ['minutes', 'landed', 'tries', 'tape', 'attempts', 'on'];
const practiceKeys = ['start', 'date', 'technique', ...practiceNumbers];
const runKeys = ['start', 'total', 'tried', 'ended', 'on'];

/**
 * Reads a table of comma-separated values (RFC 4180, with or without a byte-order mark): one block or one run a row,
 * below a row of column names. A column with a segment's name holds its times, one with a technique's name the attempts
 * at it, as landed/tries. Never throws.
 *
 * @param names column name → what the column holds, where its name does not say that
 */
export function readTable(
  text: string,
  names: ReadonlyMap<string, string>,
  target: LogTarget,
): Table | string {
  let records: { readonly record: string[]; readonly info: { readonly bytes: number } }[];
  try {
    records = parse(text, {
      bom: true,
      info: true,
      skip_empty_lines: true,
      record_delimiter: ['\r\n', '\n'],
    }) as unknown as typeof records;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  const [head, ...body] = records;
  if (!head) return 'there is nothing in it';
  const columns = head.record.map((name) => names.get(name.trim()) ?? name.trim());
  const missing = [...names.keys()].find((name) => !head.record.some((column) => column.trim() === name));
  if (missing !== undefined) return `it has no column ${missing}`;
  const twice = columns.find((name, at) => name !== '' && columns.indexOf(name) !== at);
  if (twice !== undefined) return `two columns hold ${twice}`;
  const kind = columns.includes('technique') ? 'practice' : 'runs';
  if (!columns.includes('start') && !(kind === 'practice' && columns.includes('date')))
    return 'no column says when: name one start, or map it with --columns "Name=start"';
  const isKnown = (name: string) =>
    kind === 'practice'
      ? practiceKeys.includes(name)
      : runKeys.includes(name) || target.segments.includes(name) || Object.hasOwn(target.techniques, name);
  const rows: Row[] = [];
  const problems: RowProblem[] = [];
  const starts = startLines(
    text,
    records.map(({ info }) => info.bytes),
  );
  for (const [at, { record }] of body.entries()) {
    const line = starts[at + 1]!;
    const cells = new Map(
      record.flatMap((cell, column) => (cell.trim() === '' ? [] : [[columns[column]!, cell.trim()]])),
    );
    const read = kind === 'practice' ? blockOf(cells, target) : runOf(cells, target);
    if ('problem' in read) problems.push({ line, message: read.problem });
    else {
      const { local, entry, idSource } = read;
      const hash = createHash('sha256')
        .update(JSON.stringify([local, idSource]))
        .digest('hex');
      rows.push({ line, id: `${kind === 'practice' ? 'b' : 'r'}-${hash.slice(0, 12)}`, local, entry });
    }
  }
  return { kind, rows, problems, ignored: columns.filter((name) => !isKnown(name)) };
}

/** The numbers, from 1, of the lines on which records begin. `ends` are the byte offsets of the records' ends. */
function startLines(text: string, ends: readonly number[]): number[] {
  const bytes = Buffer.from(text, 'utf8');
  const [feed, carriage] = [10, 13];
  let at = 0;
  let line = 1;
  return ends.map((end) => {
    // Skip empty lines between records.
    while (at < end && (bytes[at] === feed || bytes[at] === carriage)) if (bytes[at++] === feed) line += 1;
    const start = line;
    while (at < end) if (bytes[at++] === feed) line += 1;
    return start;
  });
}

type Cells = ReadonlyMap<string, string>;

interface ReadRow extends Pick<Row, 'local' | 'entry'> {
  /**
   * The input of the id: the entry, with its keys in a fixed order. The same row always gets the same id, so that
   * importing a table again adds nothing twice.
   */
  readonly idSource: LogEntry;
}

function momentOf(cells: Cells): string | undefined {
  const written = cells.get('start') ?? cells.get('date');
  return written !== undefined && parseMoment(written) ? written.replace(' ', 'T') : undefined;
}

function wrongMoment(cells: Cells): WritingProblem {
  const written = cells.get('start') ?? cells.get('date') ?? '';
  return { problem: `The start needs a date such as 2026-10-05 or 2026-10-05T19:30, not ${written}.` };
}

function blockOf(cells: Cells, target: LogTarget): ReadRow | WritingProblem {
  const local = momentOf(cells);
  if (local === undefined) return wrongMoment(cells);
  const technique = knownTechnique(cells.get('technique') ?? '', target);
  if (typeof technique !== 'string') return technique;
  const [minutes, landed, tries, tape, attempts, on] = practiceNumbers.map((column) => cells.get(column));
  const numbers = readBlock({ minutes, landed, tries, tape, attempts }, { table: true });
  if ('problem' in numbers) return numbers;
  const entry = blockEntry(technique, numbers, target.cycles[technique] ?? 0, on);
  return { local, entry, idSource: entry };
}

function runOf(cells: Cells, target: LogTarget): ReadRow | WritingProblem {
  const local = momentOf(cells);
  if (local === undefined) return wrongMoment(cells);
  const times: WrittenTime[] = [];
  const tried = (cells.get('tried') ?? '').split(/[\s;]+/).filter((part) => part !== '');
  for (const [name, cell] of cells) {
    if (target.segments.includes(name)) times.push({ segment: name, time: cell });
    else if (Object.hasOwn(target.techniques, name)) tried.push(`${name}=${cell}`);
  }
  const [total, ended, on] = ['total', 'ended', 'on'].map((column) => cells.get(column));
  const run = readRun({ total, times, tried, ended, on }, target, { table: true });
  if ('problem' in run) return run;
  const entry = { start: local, ...run.entry };
  const { total: length, times: parts, ...rest } = run.entry;
  const idSource = {
    start: local,
    ...(parts !== undefined && { times: parts }),
    ...(length !== undefined && { total: length }),
    ...rest,
  };
  return { local, entry, idSource };
}
