import { execFile } from 'node:child_process';
import { mkdtemp, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);

/**
 * Takes the source of a revision out of git into a temporary folder, with the packages of the work tree, writes what
 * is written from the schemas, and removes the folder when the work on it is done.
 *
 * @throws Error in git's words where there is no such revision
 */
export async function atRevision<T>(
  root: string,
  revision: string,
  work: (folder: string) => Promise<T>,
): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'rooms-'));
  try {
    const archive = join(folder, 'source.tar');
    await run('git', ['archive', '--format=tar', `--output=${archive}`, '--end-of-options', revision], {
      cwd: root,
    });
    const tree = join(folder, 'tree');
    await run('mkdir', [tree]);
    await run('tar', ['-xf', archive, '-C', tree]);
    for (const packages of ['node_modules', 'server/node_modules'])
      await symlink(join(root, packages), join(tree, packages));
    await run(process.execPath, [join(root, 'node_modules/tsx/dist/cli.mjs'), 'schemas/generate.ts'], {
      cwd: tree,
    });
    return await work(tree);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
