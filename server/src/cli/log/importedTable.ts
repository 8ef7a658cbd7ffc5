import { createHash } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { parseMoment } from '../../text/calendar.ts';
import { closestWord } from '../../text/closestWord.ts';
import { parseTime } from '../../text/time.ts';
import type { LogEntry } from '../../journal/journalLines.ts';
import { endingOf, timeText, triedOf } from './logRun.ts';
import type { LogTarget } from './logTarget.ts';

/** A row of a table, as an entry of a log. */
export interface Row {
  /** Line of the table, from 1. */
  readonly line: number;
  readonly id: string;
  /** When it began; a bare date where no time is known. */
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
  /** Columns that nothing is read from. */
  readonly ignored: readonly string[];
}

const practiceKeys = ['start', 'date', 'technique', 'minutes', 'landed', 'tries', 'tape', 'attempts', 'on'];
const runKeys = ['start', 'total', 'tried', 'ended', 'on'];

/**
 * Reads a table of comma-separated values (RFC 4180, with or without a byte-order mark): one block or one run a row,
 * below a row of column names. A column named like a segment holds its times, one named like a technique what was
 * tried of it, as landed/tries. Never throws.
 *
 * @param names column name → what the column holds, where its name does not say
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
  const known = (name: string) =>
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
    if (typeof read === 'string') problems.push({ line, message: read });
    else {
      const hash = createHash('sha256')
        .update(JSON.stringify([read.local, read.entry]))
        .digest('hex');
      rows.push({ line, id: `${kind === 'practice' ? 'b' : 'r'}-${hash.slice(0, 12)}`, ...read });
    }
  }
  return { kind, rows, problems, ignored: columns.filter((name) => !known(name)) };
}

/** The lines, from 1, at which records begin that end at these bytes. */
function startLines(text: string, ends: readonly number[]): number[] {
  const bytes = Buffer.from(text, 'utf8');
  const [feed, carriage] = [10, 13];
  let at = 0;
  let line = 1;
  return ends.map((end) => {
    // Empty lines between records are passed over.
    while (at < end && (bytes[at] === feed || bytes[at] === carriage)) if (bytes[at++] === feed) line += 1;
    const start = line;
    while (at < end) if (bytes[at++] === feed) line += 1;
    return start;
  });
}

type Cells = ReadonlyMap<string, string>;
type ReadRow = Pick<Row, 'local' | 'entry'>;

function momentOf(cells: Cells): string | undefined {
  const written = cells.get('start') ?? cells.get('date');
  return written !== undefined && parseMoment(written) ? written.replace(' ', 'T') : undefined;
}

function wrongMoment(cells: Cells): string {
  const written = cells.get('start') ?? cells.get('date') ?? '';
  return `the start needs a date such as 2026-10-05 or 2026-10-05T19:30, not "${written}"`;
}

function blockOf(cells: Cells, target: LogTarget): ReadRow | string {
  const local = momentOf(cells);
  if (local === undefined) return wrongMoment(cells);
  const written = cells.get('technique') ?? '';
  const technique = Object.hasOwn(target.techniques, written) ? target.techniques[written] : undefined;
  if (technique === undefined) {
    const meant = closestWord(written, Object.keys(target.techniques));
    return `the route has no technique "${written}"${meant ? `; did you mean ${meant}?` : ''}`;
  }
  const tape = cells.get('tape');
  if (tape !== undefined && !/^[lm]+$/.test(tape))
    return `a tape has the letters l and m only, not "${tape}"`;
  const [landed, tries, attempts] = ['landed', 'tries', 'attempts'].map((key) => parseCount(cells.get(key)));
  if ([landed, tries, attempts].some((count) => Number.isNaN(count)))
    return 'landed, tries and attempts are whole numbers';
  if ((landed === undefined) !== (tries === undefined)) return 'landed and tries are needed together';
  if (landed !== undefined && landed > tries!) return `${landed} landed of ${tries!} tries cannot be`;
  const minutes = minutesOf(cells.get('minutes'));
  if (Number.isNaN(minutes)) return `the minutes need a number up to 1440, not "${cells.get('minutes')!}"`;
  const made = tape?.length ?? tries ?? attempts ?? 0;
  const cycle = target.cycles[technique] ?? 0;
  const on = cells.get('on');
  return {
    local,
    entry: {
      technique,
      minutes: minutes ?? Math.max(0.1, Math.round((made * cycle) / 6) / 10),
      ...(landed !== undefined && { landed: [landed, tries] }),
      ...(tape !== undefined && { tape }),
      ...(attempts !== undefined && { attempts }),
      ...(on !== undefined && { on }),
    },
  };
}

function runOf(cells: Cells, target: LogTarget): ReadRow | string {
  const local = momentOf(cells);
  if (local === undefined) return wrongMoment(cells);
  const total = cells.get('total');
  if (total !== undefined && parseTime(total) === undefined) return `the total "${total}" is no time`;
  const times: Record<string, string> = {};
  const tried: Record<string, readonly [number, number]> = {};
  const tries = (cells.get('tried') ?? '').split(/[\s;]+/).filter((part) => part !== '');
  for (const [name, cell] of cells) {
    if (target.segments.includes(name)) {
      if (parseTime(cell) === undefined) return `"${cell}" is no time for ${name}`;
      times[name] = timeText(cell);
    } else if (Object.hasOwn(target.techniques, name)) tries.push(`${name}=${cell}`);
  }
  for (const part of tries) {
    const read = triedOf(part, target);
    if (typeof read === 'string')
      return `"${part}" is no technique with landed/tries, such as crate-vault=1/2`;
    tried[read.name] = read.counts;
  }
  const written = cells.get('ended');
  const ended = written === undefined ? undefined : endingOf(written, target);
  if (typeof ended === 'string')
    return `"${written!}" is no end such as harbor:reset or harbor:miss:crate-vault`;
  if (total === undefined && ended === undefined && Object.keys(times).length === 0)
    return 'neither a total nor a time nor an end is given';
  const on = cells.get('on');
  return {
    local,
    entry: {
      start: local,
      ...(Object.keys(times).length > 0 && { times }),
      ...(total !== undefined && { total: timeText(total) }),
      ...(Object.keys(tried).length > 0 && { tried }),
      ...(ended && { ended }),
      ...(on !== undefined && { on }),
    },
  };
}

function parseCount(cell: string | undefined): number | undefined {
  if (cell === undefined) return undefined;
  return /^\d{1,9}$/.test(cell) ? Number(cell) : NaN;
}

function minutesOf(cell: string | undefined): number | undefined {
  if (cell === undefined) return undefined;
  const seconds = parseTime(cell);
  const minutes = seconds === undefined ? NaN : cell.includes(':') ? seconds / 60 : seconds;
  return minutes <= 1440 ? minutes : NaN;
}
