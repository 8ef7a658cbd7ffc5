import { readdir } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { readGuardedBytesSync } from '../../disk/guardedRead.ts';
import { misnamedProblem, nearlyNamed } from '../../files/reading/misnamed.ts';
import type { Problem } from '../../files/yaml/problem.ts';
import { type Finding, findingFromProblem } from '../../rules/engine/findings.ts';
import { uriOf } from '../terminal/paths.ts';

/**
 * Files directly in some folders that were meant to be files of a route, but are not called so, as findings.
 *
 * @param folders absolute paths; one that cannot be read counts as empty
 */
export async function misnamedFiles(folders: readonly string[]): Promise<Finding[]> {
  const found: Finding[] = [];
  for (const folder of [...new Set(folders)].sort()) {
    const names = await readdir(folder).catch(() => []);
    for (const name of names.filter((one) => nearlyNamed(one) !== undefined).sort()) {
      const path = join(folder, name);
      const problem = problemOf(path);
      if (problem) found.push(findingFromProblem(uriOf(path), problem));
    }
  }
  return found;
}

/** Why a file that a person named is none of ours, where its name is nearly right. */
export function problemOf(path: string): Problem | undefined {
  const bytes = nearlyNamed(basename(path)) === undefined ? undefined : readGuardedBytesSync(path);
  if (!(bytes instanceof Uint8Array)) return undefined;
  return misnamedProblem(basename(path), new TextDecoder().decode(bytes));
}
