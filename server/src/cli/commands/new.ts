import { existsSync } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import type { RouteParts } from '../../routeTables/routeParts.ts';
import { writtenRoute } from '../../routeTables/routeText.ts';
import { starterFiles } from '../../workspace/starterFiles.ts';
import { systemReason } from '../../disk/systemReason.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { type Io, exitCodes, printJson, printLines, printNotice } from '../terminal/io.ts';
import { columnsOption } from '../terminal/optionValues.ts';
import { relativeNames, uriOf } from '../terminal/paths.ts';
import { shellWord } from '../terminal/shellWord.ts';

/** `routewright new`: creates a route as an example or from tables, with logs and week, in a folder. */
export async function createRoute(request: Request, io: Io): Promise<CommandResult> {
  const { paths, values, switches, lists } = request;
  const [written = '.', ...more] = paths;
  if (more.length > 0) return cliError(`One folder at a time, not ${paths.length}: ${paths.join(', ')}.`);
  const [game, category] = [values.get('game') ?? 'My game', values.get('category') ?? 'any%'];
  const tables = lists.get('from') ?? [];
  const columns = columnsOption(request);
  if (typeof columns === 'string') return cliError(columns);
  if (tables.length === 0 && (columns.size > 0 || switches.has('dry-run')))
    return cliError(
      `--${columns.size > 0 ? 'columns' : 'dry-run'} goes with a table: name one with --from FILE.csv.`,
    );
  const parts =
    tables.length === 0
      ? undefined
      : (await import('../project/readTables.ts')).readTables(io, tables, columns);
  if (isCliError(parts)) return parts;
  const files = starterFiles(game, category, parts && writtenRoute(game, category, parts));
  const folder = resolve(io.cwd, written);
  const nameOf = relativeNames(io.cwd);
  const named = files.map(({ name, text }) => ({ path: join(folder, name), text }));
  const names = named.map(({ path }) => nameOf(uriOf(path)));
  for (const { path } of named) {
    if (existsSync(path))
      return cliError(
        `${nameOf(uriOf(path))} exists already and is left as it is. Choose another folder or another --game.`,
      );
  }
  if (parts && switches.has('dry-run')) {
    await showTables(parts, names, io, switches.has('json'));
    return exitCodes.fine;
  }
  try {
    await mkdir(folder, { recursive: true });
    // `wx`: does not overwrite a file that was created in the meantime.
    for (const { path, text } of named) await writeFile(path, text, { flag: 'wx' });
  } catch (error) {
    return cliError(`${written} cannot be written to: ${systemReason(error)}.`);
  }
  if (switches.has('json')) {
    printJson(io, { files: names });
    return exitCodes.fine;
  }
  if (parts) {
    const { tableSum, unreadNotice } = await import('../../reports/tables/routeTablesPage.ts');
    printLines(io, [...names, '', tableSum(parts), `Next: routewright check ${shellWord(names[0]!)}`]);
    const unread = unreadNotice(parts);
    if (unread !== undefined) printNotice(io, unread);
  } else {
    const next = `Next: open ${basename(names[0]!)}, write your own segments, then run: routewright rank ${shellWord(names[0]!)}`;
    printLines(io, [...names, '', next]);
  }
  return exitCodes.fine;
}

/** The tables as they are understood, and the files that would be written. */
async function showTables(parts: RouteParts, files: readonly string[], io: Io, json: boolean): Promise<void> {
  const { segments, techniques, unread } = parts;
  if (json) {
    printJson(io, { dryRun: true, files, segments, techniques, unread });
    return;
  }
  const { routeTablesPage } = await import('../../reports/tables/routeTablesPage.ts');
  const { printPage } = await import('../terminal/print.ts');
  printPage(io, routeTablesPage(parts, files));
}
