import { mkdir, stat, writeFile } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { starterFiles } from '../../workspace/starterFiles.ts';
import { systemReason } from '../../disk/systemReason.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CommandResult } from '../terminal/cliError.ts';
import { type Io, exitCodes, printJson, printLines } from '../terminal/io.ts';
import { relativeNames, uriOf } from '../terminal/paths.ts';

/** `routewright new`: creates a starter route, logs and week in a folder. */
export async function createRoute({ paths, values, switches }: Request, io: Io): Promise<CommandResult> {
  const [written = '.', ...more] = paths;
  if (more.length > 0) return cliError(`One folder at a time: ${paths.join(', ')} are ${paths.length}.`);
  const folder = resolve(io.cwd, written);
  const nameOf = relativeNames(io.cwd);
  const files = starterFiles(values.get('game') ?? 'My game', values.get('category') ?? 'any%').map(
    ({ name, text }) => ({ path: join(folder, name), text }),
  );
  for (const { path } of files) {
    if (await exists(path))
      return cliError(
        `${nameOf(uriOf(path))} exists already and is left as it is. Choose another folder or another --game.`,
      );
  }
  try {
    await mkdir(folder, { recursive: true });
    // `wx`: does not overwrite a file that was created in the meantime.
    for (const { path, text } of files) await writeFile(path, text, { flag: 'wx' });
  } catch (error) {
    return cliError(`${written} cannot be written to: ${systemReason(error)}.`);
  }
  const names = files.map(({ path }) => nameOf(uriOf(path)));
  if (switches.has('json')) printJson(io, { files: names });
  else {
    const next = `Next: open ${basename(names[0]!)}, write your own segments, then run: routewright rank ${names[0]}`;
    printLines(io, [...names, '', next]);
  }
  return exitCodes.fine;
}

async function exists(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}
