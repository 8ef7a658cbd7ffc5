/** A table as text, divided into its headings and rows. */
import { parse } from 'csv-parse/sync';
import { unguarded } from './tableCells.ts';

/** The signs between cells that spreadsheets write. */
export const separators = [',', ';', '\t'] as const;
export type Separator = (typeof separators)[number];

export interface TableRow {
  /** Line of the text on which the row begins, from 1. */
  readonly line: number;
  /** Without spaces around them, nor the apostrophe that keeps a formula from being one; a cell beyond the headings stays. */
  readonly cells: readonly string[];
}

export interface SplitTable {
  readonly separator: Separator;
  readonly headings: TableRow;
  /** Rows with at least one cell that is not empty. */
  readonly rows: readonly TableRow[];
  /** Rows above the headings with a single cell: titles. */
  readonly titles: readonly TableRow[];
}

/** What keeps a table from being read, as the end of a sentence. */
export interface TableProblem {
  readonly problem: string;
  /** Line of the text, from 1, where it is about one. */
  readonly line?: number;
}

/**
 * Divides a table of values separated by commas, semicolons or tabs (RFC 4180 for quotation marks and line ends). The
 * first row with two cells has the headings. Never throws.
 */
export function splitTable(text: string): SplitTable | TableProblem {
  const clean = text.replace(/^\uFEFF/, '');
  // A first line such as "sep=;" tells a spreadsheet the separator.
  const told = /^sep=([,;\t])[ \t]*(?:\r\n|\r|\n|$)/i.exec(clean);
  const body = told ? clean.slice(told[0].length) : clean;
  const separator = (told?.[1] as Separator | undefined) ?? likeliestSeparator(body);
  const all = recordsOf(body, separator, told ? 2 : 1);
  if ('problem' in all) return all;
  const filled = all.filter(({ cells }) => cells.some((cell) => cell !== ''));
  if (filled.length === 0) return { problem: 'there is nothing in it' };
  const isTitle = ({ cells }: TableRow): boolean => cells.filter((cell) => cell !== '').length < 2;
  const first = filled.findIndex((row) => !isTitle(row));
  const at = first < 0 ? 0 : first;
  return { separator, headings: filled[at]!, rows: filled.slice(at + 1), titles: filled.slice(0, at) };
}

/** The separator that divides the first lines into most cells; a comma where none does. */
function likeliestSeparator(text: string): Separator {
  const sample = text.slice(0, 20_000);
  const counts = new Map<Separator, number>(separators.map((separator) => [separator, 0]));
  let quoted = false;
  let inLine = new Map<string, number>();
  let lines = 0;
  const endLine = (): void => {
    // One separator of each line counts: commas in a remark must not outvote the tabs between the cells.
    const [most] = [...inLine].sort((a, b) => b[1] - a[1]);
    if (most) counts.set(most[0] as Separator, counts.get(most[0] as Separator)! + 1);
    inLine = new Map();
    lines += 1;
  };
  for (const sign of sample) {
    if (sign === '"') quoted = !quoted;
    else if (quoted) continue;
    else if (sign === '\n' || sign === '\r') endLine();
    else if ((separators as readonly string[]).includes(sign)) inLine.set(sign, (inLine.get(sign) ?? 0) + 1);
    if (lines >= 20) break;
  }
  endLine();
  return [...counts].reduce((best, one) => (one[1] > best[1] ? one : best))[0];
}

function recordsOf(text: string, separator: Separator, firstLine: number): TableRow[] | TableProblem {
  try {
    const records = parse(text, {
      delimiter: separator,
      info: true,
      relax_column_count: true,
      // A quotation mark inside a cell is a sign like any other.
      relax_quotes: true,
      record_delimiter: ['\r\n', '\n', '\r'],
    }) as unknown as { readonly record: string[]; readonly info: { readonly bytes: number } }[];
    const lines = startLines(
      text,
      records.map(({ info }) => info.bytes),
    );
    return records.map(({ record }, at) => ({
      line: lines[at]! + firstLine - 1,
      cells: record.map((cell) => unguarded(cell.replaceAll('\u00A0', ' ').trim())),
    }));
  } catch (error) {
    const { code, lines } = error as { readonly code?: string; readonly lines?: number };
    const line = lines === undefined ? {} : { line: lines + firstLine - 1 };
    return code === 'CSV_QUOTE_NOT_CLOSED'
      ? { problem: 'a cell begins with a quotation mark that is never closed', ...line }
      : {
          problem:
            'a cell has text behind its closing quotation mark; double the quotation marks inside a cell',
          ...line,
        };
  }
}

/** The lines, from 1, on which records begin. `ends` are the offsets in bytes at which they end. */
function startLines(text: string, ends: readonly number[]): number[] {
  const bytes = new TextEncoder().encode(text);
  const [feed, carriage] = [10, 13];
  let at = 0;
  let line = 1;
  /** Whether the byte at `at` ends a line; a carriage return before a line feed does not. */
  const endsLine = (): boolean => bytes[at] === feed || (bytes[at] === carriage && bytes[at + 1] !== feed);
  return ends.map((end) => {
    const start = line;
    for (; at < end; at++) if (endsLine()) line += 1;
    return start;
  });
}
