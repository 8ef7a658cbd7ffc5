// Bundles every way in. `node build.mjs` once, `node build.mjs --watch` while working; `--into FOLDER` writes there
// what else goes to this one, `--minify` makes what is shipped, without source maps, and `--server` makes the language
// server only, without the notices.
// The browser bundles are built with platform "browser": a Node built-in reachable from them fails the build.
import { readdir, readFile, rm } from 'node:fs/promises';
import { basename, join, resolve, sep } from 'node:path';
import { context, build } from 'esbuild';
import { buildHash } from './client/package/buildHash.mjs';
import { writeNotices } from './client/package/notices.mjs';
import { writeSbom } from './client/package/sbom.mjs';

const into = process.argv.includes('--into') ? process.argv[process.argv.indexOf('--into') + 1] : '.';
const minify = process.argv.includes('--minify');
const serverOnly = process.argv.includes('--server');
const watch = process.argv.includes('--watch');

const shared = {
  bundle: true,
  sourcemap: minify ? false : 'linked',
  minify,
  target: 'es2022',
  // Some dependencies ship UMD as "main", whose hidden requires esbuild cannot follow.
  mainFields: ['module', 'main'],
  logLevel: 'warning',
  legalComments: 'none',
  metafile: true,
};
const node = { ...shared, platform: 'node' };
const browser = {
  ...shared,
  platform: 'browser',
  mainFields: ['browser', 'module', 'main'],
  // The other file of that library wants Node's buffers, which it finds missing only as it is loaded.
  alias: { 'csv-parse/sync': 'csv-parse/browser/esm/sync' },
};

// The bundles are ES modules in the command line's package; some dependencies still call require.
const requireBanner = {
  js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
};

/** Parts of the server in Node, as they stand beside each other; the protocol's classes have to be there once. */
const protocolFile = 'server.protocol.cjs';
const properFile = 'server.proper.cjs';
// Loaded by require in every part: the other loader takes longer.
const serverPart = { ...node, format: 'cjs', supported: { 'dynamic-import': false } };

/** Leaves what is imported by a name that matches to another file in the same folder. */
function apart(filter, file) {
  return {
    name: `apart: ${file}`,
    setup(into) {
      into.onResolve({ filter }, ({ kind }) =>
        kind === 'entry-point' ? undefined : { path: `./${file}`, external: true },
      );
    },
  };
}

/**
 * Lets a library make its segmenter where it first needs it, and not as it is loaded: that takes a fifth of the processor
 * time of Node's own start, and most answers need none.
 */
const lateSegmenter = {
  name: 'late segmenter',
  setup(into) {
    into.onLoad({ filter: /[\\/]string-width[\\/]index\.js$/ }, async ({ path }) => {
      const contents = (await readFile(path, 'utf8'))
        .replace('const segmenter = new Intl.Segmenter();', 'let segmenter;')
        .replace('of segmenter.segment(', 'of (segmenter ??= new Intl.Segmenter()).segment(');
      if (contents.split('new Intl.Segmenter()').length !== 2 || !contents.includes('(segmenter ??='))
        throw new Error(
          'string-width makes its segmenter in another way: change lateSegmenter in build.mjs.',
        );
      return { contents, loader: 'js' };
    });
  },
};

/** Where each goes is a path in the folder that is built into. */
const bundles = [
  {
    ...node,
    entryPoints: ['client/src/extension.ts'],
    outfile: 'dist/client.cjs',
    format: 'cjs',
    external: ['vscode'],
  },
  {
    ...browser,
    entryPoints: ['client/src/extension.browser.ts'],
    outfile: 'dist/client.browser.js',
    format: 'cjs',
    external: ['vscode'],
  },
  // In three files: the first, with the library that speaks the protocol, answers before the third is read.
  {
    ...serverPart,
    entryPoints: ['server/src/main.ts'],
    outfile: 'dist/server.cjs',
    plugins: [
      apart(/^vscode-(languageserver(\/node)?|jsonrpc)$/, protocolFile),
      apart(/\/serveNode\.ts$/, properFile),
    ],
  },
  { ...serverPart, entryPoints: ['vscode-languageserver/node'], outfile: join('dist', protocolFile) },
  {
    ...serverPart,
    entryPoints: ['server/src/lsp/server/serveNode.ts'],
    outfile: join('dist', properFile),
    plugins: [apart(/^vscode-(languageserver(\/node)?|jsonrpc)$/, protocolFile)],
  },
  {
    ...browser,
    entryPoints: ['server/src/browser.ts'],
    outfile: 'dist/server.browser.js',
    format: 'iife',
  },
  { ...browser, entryPoints: ['client/panel/main.ts'], outfile: 'dist/panel.js', format: 'iife' },
  { ...browser, entryPoints: ['client/panel/panel.css'], outfile: 'dist/panel.css' },
  {
    ...browser,
    entryPoints: ['client/practice/main.ts'],
    outfile: 'dist/practice.js',
    format: 'iife',
  },
  { ...browser, entryPoints: ['client/practice/practice.css'], outfile: 'dist/practice.css' },
  { ...browser, entryPoints: ['client/practice/run/main.ts'], outfile: 'dist/run.js', format: 'iife' },
  { ...browser, entryPoints: ['client/practice/run/run.css'], outfile: 'dist/run.css' },
  // In pieces, so that logging an attempt loads nothing of what ranking needs.
  {
    ...node,
    // Threads that work out forecasts or count runners begin in the worker's file, beside the part that starts them.
    entryPoints: [
      { in: 'server/src/cli.ts', out: 'cli' },
      { in: 'server/src/cli/checking/forecastWorker.ts', out: 'parts/forecastWorker' },
      { in: 'server/src/cli/pool/runnerWorker.ts', out: 'parts/runnerWorker' },
    ],
    outdir: 'server/dist',
    format: 'esm',
    splitting: true,
    chunkNames: 'parts/[name]-[hash]',
    banner: requireBanner,
    plugins: [lateSegmenter],
    // Answers are kept by it from one process to the next. While the source changes, nothing is kept.
    define: watch ? {} : { ROUTEWRIGHT_BUILD: JSON.stringify(await buildHash()) },
  },
]
  .filter(({ outfile }) => !serverOnly || outfile?.startsWith('dist/server.'))
  .map(({ outfile, outdir, ...bundle }) => ({
    ...bundle,
    ...(outdir ? { outdir: join(into, outdir) } : { outfile: join(into, outfile) }),
  }));

/** Removes the pieces of earlier builds, which would be shipped too. */
async function removeOldParts(results) {
  const made = new Set(
    results.flatMap(({ metafile }) => Object.keys(metafile.outputs)).map((path) => basename(path)),
  );
  const parts = join(into, 'server/dist/parts');
  for (const name of await readdir(parts)) if (!made.has(name)) await rm(join(parts, name), { force: true });
}

/** Whether a bundle's files lie in a folder, and not in one of another package. */
function inFolder(outputs, folder) {
  return Object.keys(outputs).some((path) => resolve(path).startsWith(resolve(folder) + sep));
}

if (watch) {
  for (const bundle of bundles) await (await context(bundle)).watch();
} else {
  const results = await Promise.all(bundles.map((bundle) => build(bundle)));
  if (!serverOnly) await removeOldParts(results);
  const ships = (folder) =>
    results.map(({ metafile }) => metafile).filter(({ outputs }) => inFolder(outputs, folder));
  const packages = { dist: 'package.json', 'server/dist': 'server/package.json' };
  for (const [folder, manifest] of serverOnly ? [] : Object.entries(packages)) {
    const place = join(into, folder);
    await writeNotices(ships(place), place);
    await writeSbom(ships(place), place, manifest);
  }
}
