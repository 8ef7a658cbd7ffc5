import { readdir } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { HostProblem } from './host/problem.ts';

const MOCHA_SETUP = fileURLToPath(new URL('./suite/mocha.ts', import.meta.url));

/** The test files of a folder, sorted by name. @throws HostProblem where there is none */
export async function testFiles(folder: string): Promise<string[]> {
  const names = (await readdir(folder)).filter((name) => name.endsWith('.test.ts')).sort();
  if (names.length === 0) throw new HostProblem(`There is no test (*.test.ts) in ${folder}.`);
  return names.map((name) => join(folder, name));
}

/**
 * Bundles the test files of a folder into one module; the editor calls its `run()`.
 *
 * @param folder absolute path of the folder with the test files
 * @param outfile the bundle; its name ends in .cjs, because the editor loads a suite by `require`
 */
export async function bundleSuite(folder: string, outfile: string): Promise<void> {
  const quote = (path: string): string => JSON.stringify(path);
  const entry = [
    `import { mocha } from 'started-mocha';`,
    ...(await testFiles(folder)).map((file) => `import ${quote(file)};`),
    `import { runInEditor } from ${quote(MOCHA_SETUP)};`,
    `export const run = () => runInEditor(mocha);`,
  ];
  await build({
    stdin: { contents: entry.join('\n'), resolveDir: folder, loader: 'ts', sourcefile: 'suite.ts' },
    outfile,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'cjs',
    mainFields: ['module', 'main'],
    sourcemap: 'inline',
    logLevel: 'warning',
    external: ['vscode'],
    plugins: [
      {
        name: 'mocha',
        setup: (bundle) => {
          // Mocha loads files from its own folder at run time, so it is not bundled but imported by its path.
          const mocha = createRequire(import.meta.url).resolve('mocha');
          bundle.onResolve({ filter: /^mocha$/ }, () => ({ path: mocha, external: true }));
          // Test files declare their tests while they are imported, so mocha has to be started in a module
          // that is imported before them.
          bundle.onResolve({ filter: /^started-mocha$/ }, ({ path }) => ({
            path,
            namespace: 'started-mocha',
          }));
          bundle.onLoad({ filter: /.*/, namespace: 'started-mocha' }, () => ({
            contents: `import { createMocha } from ${quote(MOCHA_SETUP)}; export const mocha = createMocha();`,
            loader: 'ts',
            resolveDir: folder,
          }));
        },
      },
    ],
  });
}
