import { existsSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { makeFolder } from '../../disk/sync.ts';
import { isInside } from '../../disk/reach.ts';
import { targetFile, targetKey } from './logTarget.ts';

/**
 * Remembers which file or folder was named last for `log` in a folder, so that it need not be named again where there are
 * several routes. One outside the folder is not remembered: it would be a surprise to find entries there.
 *
 * @param state folder in which the tool keeps its own files
 * @param named file or folder, as written
 * @param practice path of the practice file that it led to
 */
export function rememberLast(
  state: string,
  cwd: string,
  named: string,
  runner: string | undefined,
  practice: string,
): void {
  if (!isInside(cwd, practice)) return;
  const path = resolve(cwd, named);
  const file = lastFile(state, cwd, runner);
  if (lastIn(file) === path) return;
  try {
    makeFolder(dirname(file));
    writeFileSync(`${file}.${process.pid}`, JSON.stringify(path), { mode: 0o600 });
    renameSync(`${file}.${process.pid}`, file);
    // What was found for this folder before may be another log.
    rmSync(targetFile(state, targetKey(cwd, undefined, runner)), { force: true });
  } catch {
    // A full or read-only disk is reported by the code that writes the journal.
  }
}

/** The path that was named last in a folder; undefined where there is none, or nothing stands there any more. */
export function lastNamed(state: string, cwd: string, runner: string | undefined): string | undefined {
  const path = lastIn(lastFile(state, cwd, runner));
  return path !== undefined && existsSync(path) ? path : undefined;
}

function lastIn(file: string): string | undefined {
  try {
    const path: unknown = JSON.parse(readFileSync(file, 'utf8'));
    return typeof path === 'string' ? path : undefined;
  } catch {
    return undefined;
  }
}

function lastFile(state: string, cwd: string, runner: string | undefined): string {
  return targetFile(state, JSON.stringify(['last', cwd, runner ?? null]));
}
