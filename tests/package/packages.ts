import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { unzipSync } from 'fflate';

const run = promisify(execFile);
export const root = join(import.meta.dirname, '../..');

/** What `npm run package` made, by its paths. */
export interface Made {
  readonly vsix: string;
  readonly tarball: string;
}

/** Packs everything as a contributor does, into a folder, with some of the machine's own ways changed. */
export async function makePackages(folder: string, env: NodeJS.ProcessEnv = {}): Promise<Made> {
  const tsx = join(root, 'node_modules/.bin/tsx');
  await run(tsx, ['client/package/package.ts', folder], { cwd: root, env: { ...process.env, ...env } });
  const { version } = JSON.parse(await readFile(join(root, 'package.json'), 'utf8')) as { version: string };
  return {
    vsix: join(folder, `routewright-${version}.vsix`),
    tarball: join(folder, `routewright-server-${version}.tgz`),
  };
}

/** The files in a zip archive by their paths. */
export async function filesIn(archive: string): Promise<ReadonlyMap<string, Buffer>> {
  const files = Object.entries(unzipSync(await readFile(archive)));
  return new Map(files.map(([path, bytes]) => [path, Buffer.from(bytes)]));
}
