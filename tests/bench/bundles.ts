import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { generalEntry, generalFolder, ownBundle, ownEntry, root } from './servers.ts';

/** A server's whole code in one minified file. */
export interface Bundle {
  readonly file: string;
  /** Size in kB (1000 bytes). */
  readonly kilobytes: number;
}

/** Bundles both servers by the same options into a folder, so that size and start-up can be compared. */
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

/** Builds the project's own bundles where they are missing, as they are shipped. False where that failed. */
export function ensureBuilt(): boolean {
  if (existsSync(ownBundle)) return true;
  const { status } = spawnSync(process.execPath, ['build.mjs', '--minify'], { cwd: root, stdio: 'inherit' });
  return status === 0 && existsSync(ownBundle);
}
