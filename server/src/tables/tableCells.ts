/** Tables as text that a spreadsheet opens without running anything in it. */

/** A cell: a text, a number, or nothing. */
export type TableCell = string | number | undefined;

/** What a spreadsheet takes for the beginning of a formula. Source: OWASP, "CSV Injection". */
const formula = /^'{0,99}[=+\-@\t\r]/;
const number = /^[+-]?(?:\d{1,15}(?:\.\d{1,15})?)$/;

/**
 * A table of values separated by commas (RFC 4180): quotation marks where a cell needs them, no cell that a spreadsheet
 * takes for a formula. `splitTable` reads back what was written, but for spaces around a cell.
 *
 * @param lineEnd between the rows and behind the last
 */
export function writeTable(
  headings: readonly string[],
  rows: readonly (readonly TableCell[])[],
  lineEnd: '\n' | '\r\n' = '\r\n',
): string {
  return [headings, ...rows].map((row) => row.map(cellText).join(',') + lineEnd).join('');
}

function cellText(cell: TableCell): string {
  if (cell === undefined) return '';
  if (typeof cell === 'number') return String(cell);
  const text = guarded(cell);
  return /[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * A text with an apostrophe before it where it would be a formula; a number, also a negative one, stays a number.
 *
 * @example
 * guarded('=1+1') // "'=1+1"
 */
export function guarded(text: string): string {
  return formula.test(text) && !number.test(text) ? `'${text}` : text;
}

/** Takes away what {@link guarded} put before a text. */
export function unguarded(cell: string): string {
  return cell.startsWith("'") && formula.test(cell) ? cell.slice(1) : cell;
}
