import { execFile } from 'node:child_process';
import { chmod, copyFile, cp, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
import { createVSIX } from '@vscode/vsce';

const run = promisify(execFile);
const root = join(import.meta.dirname, '../..');

/** Paths of the two packages. */
export interface Packages {
  /** The extension, for `code --install-extension`. */
  readonly vsix: string;
  /** The command line and the language server, for `npm install`. */
  readonly tarball: string;
}

/**
 * The date of every file in a package, in seconds since 1970 (2026-01-01), so that the bytes do not depend on the
 * clock.
 */
const packed = 1_767_225_600;

/** The files that the extension holds besides the bundles. */
const extensionFiles = [
  'CHANGELOG.md',
  'LICENSE',
  'client/language/language-configuration.json',
  'client/language/routewright.tmLanguage.json',
  'client/media/icon.png',
  'client/media/tonight.svg',
  'client/rules.md',
];

/** Folders of the extension, and the names of the files in them that belong to it. */
const extensionFolders: readonly (readonly [folder: string, names: RegExp])[] = [
  ['.', /^package\.nls(\.[a-z-]+)?\.json$/],
  ['client/walkthrough', /\.(svg|md|png)$/],
  ['samples', /\.yaml$/],
];

/**
 * The keys of package.json that the editor and the marketplace read; the others are about this repository. `type` is
 * one of those others: with it, an editor in a browser would load the script as an ES module, which fails.
 */
const manifestKeys = [
  ...['name', 'displayName', 'description', 'version', 'publisher', 'license', 'icon', 'categories'],
  ...['keywords', 'extensionKind', 'main', 'browser', 'activationEvents', 'capabilities', 'contributes'],
];

/**
 * Builds everything in a separate folder and packs it; this repository's own build stays.
 *
 * @param folder absolute path of the folder for the packages
 * @throws where the build fails, or a file that is to be packed is missing
 */
export async function packAll(folder: string): Promise<Packages> {
  const work = await mkdtemp(join(tmpdir(), 'routewright-package-'));
  try {
    await run(process.execPath, ['build.mjs', '--minify', '--into', work], { cwd: root });
    return { vsix: await packExtension(work, folder), tarball: await packServer(work, folder) };
  } finally {
    await rm(work, { recursive: true, force: true });
  }
}

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly engines: { readonly vscode: string };
}

async function packExtension(work: string, folder: string): Promise<string> {
  const stage = join(work, 'extension');
  await cp(join(work, 'dist'), join(stage, 'dist'), { recursive: true });
  for (const file of [...extensionFiles, ...(await foundFiles())]) {
    await mkdir(dirname(join(stage, file)), { recursive: true });
    await copyFile(join(root, file), join(stage, file));
  }
  await copyFile(join(import.meta.dirname, 'readme.md'), join(stage, 'README.md'));
  const whole = JSON.parse(await readFile(join(root, 'package.json'), 'utf8')) as Manifest &
    Record<string, unknown>;
  const manifest = {
    ...Object.fromEntries(manifestKeys.map((key) => [key, whole[key]])),
    engines: { vscode: whole.engines.vscode },
    files: ['CHANGELOG.md', 'LICENSE', 'README.md', 'client', 'dist', 'samples', 'package.nls*.json'],
  };
  await writeFile(join(stage, 'package.json'), `${JSON.stringify(manifest, null, 2)}\n`);
  await sameModes(stage);
  const packagePath = join(folder, `${whole.name}-${whole.version}.vsix`);
  await datedAlike(() =>
    createVSIX({
      cwd: stage,
      packagePath,
      dependencies: false,
      rewriteRelativeLinks: false,
      allowMissingRepository: true,
    }),
  );
  return packagePath;
}

/** Paths of the files in the extension's folders. */
async function foundFiles(): Promise<string[]> {
  const all = await Promise.all(
    extensionFolders.map(async ([folder, names]) =>
      (await readdir(join(root, folder)).catch(() => []))
        .filter((name) => names.test(name))
        .map((name) => join(folder, name)),
    ),
  );
  return all.flat().sort();
}

async function packServer(work: string, folder: string): Promise<string> {
  const stage = join(work, 'server');
  for (const file of ['package.json', 'README.md', 'LICENSE'])
    await copyFile(join(root, 'server', file), join(stage, file));
  const { stdout } = await run('npm', ['pack', '--json', '--pack-destination', folder], { cwd: stage });
  const [made] = Object.values(JSON.parse(stdout) as Record<string, { readonly filename: string }>);
  const names = await readdir(folder);
  const name = names.find((each) => each === made?.filename);
  if (name === undefined) throw new Error(`npm said that it made ${made?.filename}, but there is none.`);
  return join(folder, name);
}

/** Gives every file the same mode, which otherwise depends on the settings of this machine. */
async function sameModes(folder: string): Promise<void> {
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true }))
    if (entry.isFile()) await chmod(join(entry.parentPath, entry.name), 0o644);
}

/**
 * Runs the packing with one date for every file, by the environment variable that its library reads, and in one time
 * zone.
 */
async function datedAlike(pack: () => Promise<void>): Promise<void> {
  const own = { SOURCE_DATE_EPOCH: String(packed), TZ: 'UTC' };
  const before = Object.keys(own).map((name) => [name, process.env[name]] as const);
  Object.assign(process.env, own);
  try {
    await pack();
  } finally {
    for (const [name, value] of before)
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
  }
}
