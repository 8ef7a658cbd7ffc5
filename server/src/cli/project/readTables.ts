import { resolve } from 'node:path';
import { readRouteTables } from '../../routeTables/readRouteTables.ts';
import type { RouteParts } from '../../routeTables/routeParts.ts';
import type { SourceTable, TableFault } from '../../routeTables/routeRows.ts';
import { decodeTable } from '../../tables/tableText.ts';
import { formatCount } from '../../text/format.ts';
import { cliError, type CliError } from '../terminal/cliError.ts';
import { type Io, printNotice } from '../terminal/io.ts';
import { readNamedBytes } from './readNamedBytes.ts';

/** Faults that are listed one by one: where every row is wrong, all of them mostly have the same fault. */
const maxFaultsShown = 10;

/**
 * Reads the tables of segments and techniques that the person named. What is wrong in them is printed with its place.
 *
 * @param written file names, as written
 * @param columns by heading: what the person says that its column holds
 */
export function readTables(
  io: Io,
  written: readonly string[],
  columns: ReadonlyMap<string, string>,
): RouteParts | CliError {
  const tables: SourceTable[] = [];
  for (const name of written) {
    const bytes = readNamedBytes(resolve(io.cwd, name));
    if (!(bytes instanceof Uint8Array)) return refuse(`${name} cannot be read: ${bytes.reason}.`);
    const decoded = decodeTable(bytes);
    if ('problem' in decoded) return refuse(`${name} cannot be read: ${decoded.problem}.`);
    tables.push({ name, text: decoded.text });
  }
  const parts = readRouteTables(tables, columns);
  if (!('faults' in parts)) return parts;
  const { faults } = parts;
  for (const fault of faults.slice(0, maxFaultsShown)) printNotice(io, faultLine(fault));
  const more = faults.length - maxFaultsShown;
  return refuse(
    more > 0
      ? `And ${formatCount(more, 'more place')}.`
      : `${formatCount(faults.length, 'place')} cannot be read.`,
  );
}

function faultLine({ table, line, column, message, ways = [] }: TableFault): string {
  const place = line === undefined ? table : `${table}:${line}`;
  const said = `${place}  ${column === undefined ? '' : `column ${column}: `}${message}`;
  const options = ways.map((way) => `--columns "${way}"`);
  return options.length === 0 ? said : `${said} You can say ${options.join(' or ')}.`;
}

function refuse(sentence: string): CliError {
  return cliError(`${sentence} Nothing was written.`);
}
