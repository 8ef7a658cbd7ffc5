import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { packAll } from '../../client/package/packAll.ts';
import { built, general, generalEntry, generalFolder, ownBundle, ownEntry, root } from './servers.ts';
import { row, type Row } from './table.ts';

export const asBundle = `${general.name}, bundled by the same options`;

/** A server's whole code in one minified file. */
export interface Bundle {
  readonly file: string;
  /** Size in kB (1000 bytes). */
  readonly kilobytes: number;
}

/** Bundles both servers with the same options into a folder, so that size and start can be compared. */
export async function bundleBoth(folder: string): Promise<{ own: Bundle; general: Bundle }> {
  const bundle = async (entry: string, name: string): Promise<Bundle> => {
    const file = join(folder, name);
    await build({
      entryPoints: [entry],
      outfile: file,
      bundle: true,
      minify: true,
      platform: 'node',
      format: 'cjs',
      target: 'es2022',
      mainFields: ['module', 'main'],
      legalComments: 'none',
      logLevel: 'error',
    });
    return { file, kilobytes: statSync(file).size / 1000 };
  };
  // The general server reads its messages from a folder three above its code.
  cpSync(join(generalFolder, 'l10n'), join(folder, 'general/l10n'), { recursive: true });
  return {
    own: await bundle(ownEntry, 'own.cjs'),
    general: await bundle(generalEntry, 'general/out/server/src/server.cjs'),
  };
}

/** Builds the project's own bundles as for a release, into a folder of the benchmark. False where that failed. */
export function buildOwn(): boolean {
  const args = ['build.mjs', '--minify', '--into', built];
  const { status } = spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit' });
  return status === 0 && existsSync(ownBundle);
}

/** Total size of some files in kB (1000 bytes). */
function sizeOf(...files: readonly string[]): number {
  return files.reduce((sum, file) => sum + statSync(file).size / 1000, 0);
}

/**
 * Sizes of the released files, each compared with the general server in one minified file, compressed with compressed.
 */
export async function measureSizes(): Promise<Row[]> {
  const folder = join(root, 'tests/output/bench');
  const { own, general: other } = await bundleBoth(folder);
  const packages = join(folder, 'packages');
  mkdirSync(packages, { recursive: true });
  const { vsix, tarball } = await packAll(packages);
  const dist = (name: string): string => join(built, 'dist', name);
  const serverFiles = readdirSync(join(built, 'dist'))
    .filter((name) => /^server(\.\w+)?\.cjs$/.test(name))
    .map(dist);
  const plain = (what: string, kilobytes: number): Row =>
    row(what, 'kB', [kilobytes], asBundle, [other.kilobytes]);
  const zipped = gzipSync(readFileSync(other.file), { level: 9 }).length / 1000;
  const packed = (what: string, file: string): Row =>
    row(what, 'kB', [sizeOf(file)], `${asBundle}, gzipped`, [zipped]);
  return [
    plain('Server as one minified file', own.kilobytes),
    plain('… as it is shipped, in all its files', sizeOf(...serverFiles)),
    plain('… for a browser', sizeOf(dist('server.browser.js'))),
    plain('Extension in the editor, without the server', sizeOf(dist('client.cjs'))),
    packed('… all that it ships, packed as a VSIX', vsix),
    packed('Command line with the server in it, packed for npm', tarball),
  ];
}
