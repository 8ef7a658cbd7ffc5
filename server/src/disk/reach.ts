import { existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join, relative, sep } from 'node:path';

/** Whether a path lies below a folder. Both absolute. */
export function isInside(folder: string, path: string): boolean {
  const way = relative(folder, path);
  return way !== '' && way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}

/**
 * The git repository that a folder belongs to; undefined where it belongs to none. A repository that holds the person's
 * home folder does not count: what is in it was not put together for one route.
 *
 * @param folder absolute path
 */
export function repositoryOf(folder: string): string | undefined {
  for (let here = folder; !holdsHome(here); here = dirname(here))
    if (existsSync(join(here, '.git'))) return here;
  return undefined;
}

/** Whether a folder is the home folder or above it. */
export function holdsHome(folder: string): boolean {
  return dirname(folder) === folder || folder === homedir() || isInside(folder, homedir());
}
