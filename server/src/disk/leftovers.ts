import { lstatSync, readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { giveName, hashOf, isSameFile, keepBeside, remove, replacementNamesIn } from './fileNames.ts';

/**
 * Puts back each file of a folder whose replacement was interrupted at the one moment at which the file has no name.
 * Does no harm where the replacement still goes on: it then begins again.
 *
 * @param names all names in the folder
 * @returns names of the files that were put back
 */
export function restoreFiles(folder: string, names: readonly string[]): string[] {
  const found = replacementNamesIn(names);
  return found.flatMap(({ name, of, id, isOld }) => {
    const fresh = found.find((other) => !other.isOld && other.id === id && other.of === of);
    // Without its new text the replacement was done: whoever removed the file since meant to.
    if (!isOld || !fresh || names.includes(of)) return [];
    if (!giveName(join(folder, name), join(folder, of))) return [];
    remove(join(folder, fresh.name));
    return [of];
  });
}

/** Does the same for one file. Throws what the system says where its folder cannot be read. */
export function restoreFile(path: string): boolean {
  return restoreFiles(dirname(path), readdirSync(dirname(path))).includes(basename(path));
}

/**
 * For so long a leftover may be in use: another program may still write to the file that was replaced. A process that
 * was stopped for longer finds its new text gone and begins again. Milliseconds.
 */
const lateTime = 1_000;

/**
 * Removes what interrupted replacements of a file left behind. A file that another program wrote to after its
 * replacement began is kept beside.
 *
 * @returns names of the files kept beside
 */
export function tidyLeftovers(path: string): string[] {
  const folder = dirname(path);
  const found = replacementNamesIn(readdirSync(folder)).filter(({ of }) => of === basename(path));
  return found.flatMap(({ name, hash, isOld }) => {
    const leftover = join(folder, name);
    const stats = lstatSync(leftover, { throwIfNoEntry: false });
    if (!stats?.isFile()) return [];
    const age = Math.abs(Date.now() - Math.max(stats.mtimeMs, stats.ctimeMs));
    if (age <= lateTime && !isSameFile(leftover, path)) return [];
    if (isOld && !isSameFile(leftover, path) && hashOf(readFileSync(leftover)) !== hash)
      return keepBeside(leftover, path) ?? [];
    remove(leftover);
    return [];
  });
}
