import { build } from 'esbuild';
import { join } from 'node:path';

const repository = join(import.meta.dirname, '../..');

/**
 * Bundles an entry point for Node as the command line is bundled, into a folder of its own.
 *
 * @param entry path in the repository
 * @returns path of the program
 */
export async function programOf(entry: string, folder: string): Promise<string> {
  const program = join(folder, 'program.mjs');
  await build({
    absWorkingDir: repository,
    entryPoints: [entry],
    outfile: program,
    bundle: true,
    platform: 'node',
    target: 'es2022',
    format: 'esm',
    mainFields: ['module', 'main'],
    banner: {
      js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
    },
    logLevel: 'warning',
  });
  return program;
}
