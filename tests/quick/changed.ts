import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);

/** Files that differ from what others have, by their paths in the project. */
export interface Changed {
  /** Those that are there, in the order of their paths. */
  readonly files: readonly string[];
  /** Those that were taken away. */
  readonly gone: readonly string[];
  /** The commit that they are compared with. */
  readonly since: string;
}

/** The names that a git command prints with -z. */
async function names(root: string, ...args: readonly string[]): Promise<string[]> {
  const { stdout } = await run('git', args, { cwd: root, maxBuffer: 64 * 1024 * 1024 });
  return stdout.split('\0').filter((name) => name !== '');
}

/** The last commit that is shared with the branch that this one follows, or with origin's; HEAD where there is neither. */
async function sharedCommit(root: string): Promise<string> {
  for (const other of ['@{upstream}', 'origin/HEAD', 'HEAD']) {
    const found = await run('git', ['merge-base', 'HEAD', other], { cwd: root }).catch(() => undefined);
    if (found) return found.stdout.trim();
  }
  throw new Error('This folder has no commit to compare with.');
}

/** What changed in the work tree, new files too, since the last commit that others have. */
export async function changedFiles(root: string): Promise<Changed> {
  const since = await sharedCommit(root);
  const [tracked, fresh] = await Promise.all([
    names(root, 'diff', '--name-only', '--no-renames', '-z', since),
    names(root, 'ls-files', '--others', '--exclude-standard', '-z'),
  ]);
  const all = [...new Set([...tracked, ...fresh])].sort();
  const isThere = (path: string): boolean => existsSync(join(root, path));
  return { files: all.filter(isThere), gone: all.filter((path) => !isThere(path)), since };
}

/** All files of the project that git knows or would take in, and what is written from the schemas. */
export async function projectFiles(root: string): Promise<string[]> {
  const listed = await names(root, 'ls-files', '--cached', '--others', '--exclude-standard', '-z');
  return [...new Set(listed)].sort();
}
