import { fileKinds } from '../../files/fileKind.ts';
import { keyMeanings, keysOf, nearbyKeys } from '../../files/schema/keyMeanings.ts';
import { keyJson, keyListPage, keyPage } from '../../reports/keys/keyPage.ts';
import { formatList } from '../../text/format.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CommandResult } from '../terminal/cliError.ts';
import { exitCodes, type Io, printJson, printLines } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';

/** `routewright explain KEY`: what a key of a file means. */
export function explainKey({ paths, switches }: Request, io: Io): Promise<CommandResult> {
  return Promise.resolve(answer(paths, switches.has('json'), io));
}

function answer(paths: readonly string[], json: boolean, io: Io): CommandResult {
  const [written, ...more] = paths;
  if (more.length > 0) return cliError(`One key at a time, not ${paths.length}: ${paths.join(', ')}.`);
  if (written === undefined) return listKeys(json, io);
  const meanings = keyMeanings(written);
  const [first] = meanings;
  if (!first) return unknownKey(written, json, io);
  if (json) printJson(io, keyJson(first.key, meanings));
  else printPage(io, keyPage(meanings));
  return exitCodes.fine;
}

function unknownKey(written: string, json: boolean, io: Io): CommandResult {
  if (written.toLowerCase().startsWith('x-') && !json) {
    printLines(io, [
      `${written} is a key of your own: nothing is read from it, and it stays in the file as you wrote it.`,
    ]);
    return exitCodes.fine;
  }
  const near = nearbyKeys(written);
  const hint =
    near.length > 0
      ? `Did you mean ${formatList(near, 'or')}?`
      : 'All keys: routewright explain. A technique: routewright rank --explain TECHNIQUE.';
  return cliError(`No file has a key ${written}. ${hint}`);
}

function listKeys(json: boolean, io: Io): CommandResult {
  const byKind = fileKinds.map((kind) => [kind, keysOf(kind)] as const);
  if (json) printJson(io, { keys: Object.fromEntries(byKind) });
  else printPage(io, keyListPage(byKind));
  return exitCodes.fine;
}
