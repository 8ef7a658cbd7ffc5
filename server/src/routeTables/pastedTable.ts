/** A table from the clipboard, as the parts that it adds to a route. */
import { readRouteTables } from './readRouteTables.ts';
import type { KnownRoute, RouteParts } from './routeParts.ts';
import type { TableFault } from './routeRows.ts';

/** Longest text that is read, in UTF-16 units: a table of 5,000 rows has about a tenth of it. */
export const maxTableLength = 5_000_000;

/** What people may call the table where a fault has no place in it. */
const clipboard = 'The clipboard';

/**
 * Reads a table from the clipboard. Columns of which nobody knows what they hold are left out, and are named among the
 * parts' `unread` columns. Never throws.
 *
 * @param ignored headings of columns that the person wants nothing of
 */
export function readPastedTable(
  text: string,
  ignored: readonly string[],
  known?: KnownRoute,
): RouteParts | { readonly faults: readonly TableFault[] } {
  if (text.length > maxTableLength)
    return { faults: [{ table: clipboard, message: 'It is too long for a table of one route.' }] };
  const columns = new Map(ignored.map((heading) => [heading, 'ignored']));
  const tables = [{ name: clipboard, text }];
  const read = readRouteTables(tables, columns, known);
  const unknown = 'faults' in read ? read.faults.flatMap(({ unknownColumn }) => unknownColumn ?? []) : [];
  if (unknown.length === 0) return read;
  for (const heading of unknown) columns.set(heading, 'ignored');
  return readRouteTables(tables, columns, known);
}

/** The headings without which a table may be read, as its faults say. */
export function columnsToLeaveOut(faults: readonly TableFault[]): string[] {
  const end = '=ignored';
  const ways = faults.flatMap((fault) => fault.ways ?? []);
  return [...new Set(ways.filter((way) => way.endsWith(end)).map((way) => way.slice(0, -end.length)))];
}

/** A fault in a sentence, with its line and the heading of its column. */
export function faultSentence({ line, column, message, ways = [] }: TableFault): string {
  const place = [
    ...(line === undefined ? [] : [`Line ${line}`]),
    ...(column === undefined ? [] : [`column ${column}`]),
  ].join(', ');
  const headings = ways.includes('HEADING=time')
    ? ' The first row needs headings: segment and time, or technique, difficulty and saves.'
    : '';
  return `${place}${place === '' ? '' : ': '}${message}${headings}`;
}
