import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile, rename, rm, stat, symlink, writeFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { delimiter, dirname, join } from 'node:path';
import { lastLines, runCommand } from './command.ts';
import { HostProblem } from './problem.ts';
import { ensurePrograms } from './programs.ts';
import { chosenHost, HOSTS, nodePackage } from './versions.ts';
import type { Change, HostName, HostVersion } from './versions.ts';

/** Version of the editor host that is used by default. */
export const DEFAULT_HOST_VERSION = HOSTS.oldest.version;

/** An installed editor host. */
export interface EditorHost {
  /** Version of the registry package. */
  readonly version: string;
  /** Version of VS Code inside it. */
  readonly editorVersion: string;
  /** The folder of VS Code's server, from which it is started. */
  readonly folder: string;
  /** The server's own script, to be run by {@link EditorHost.node}. */
  readonly main: string;
  /** Absolute path of the Node that runs it. */
  readonly node: string;
  /** Absolute path of the Chromium that shows the workbench. */
  readonly chromium: string;
}

/** Options of an installation; all are optional. */
export interface InstallOptions {
  /** Which host; where left out, the one that the environment names, else the oldest. */
  readonly name?: HostName;
  /** The folder of installed hosts; where left out, ROUTEWRIGHT_CACHE or ~/.cache/routewright. */
  readonly cache?: string;
  /** Receives plain sentences about what is being installed; where left out, they go to standard error. */
  readonly say?: (sentence: string) => void;
}

const WORK_PREFIX = 'installing-';
/** No installation takes so long: a folder older than this was left by a process that was killed. */
const ABANDONED_AFTER_MS = 2 * 60 * 60_000;
const MARKER = 'installed.json';
const NPM_LIMIT_MS = 15 * 60_000;

/** The folder of installed editor hosts. */
export function cacheFolder(): string {
  const chosen = process.env['ROUTEWRIGHT_CACHE'];
  return chosen !== undefined && chosen !== '' ? chosen : join(homedir(), '.cache', 'routewright');
}

/**
 * Installs the editor host unless it is installed already, and returns its paths. The work is done in a temporary
 * folder that is renamed at the very end, so that an interrupted or a concurrent installation never leaves a
 * half-finished host under the final name.
 *
 * @throws HostProblem where it cannot be installed here: the message says why and what would help
 */
export async function installHost(options: InstallOptions = {}): Promise<EditorHost> {
  const wanted = HOSTS[options.name ?? chosenHost()];
  const { version } = wanted;
  const cache = options.cache ?? cacheFolder();
  const say = options.say ?? ((sentence: string) => process.stderr.write(`${sentence}\n`));
  // Native modules belong to one version of Node's binary interface, so that is part of the name.
  const node = wanted.node ?? process.versions.modules;
  const place = join(cache, `editor-host-${version}-node${node}-${process.arch}`);

  const present = await readMarker(place);
  const programs = await ensurePrograms({ compilers: present === undefined, say });
  if (present !== undefined) return describeHost(wanted, place, present, programs.chromium);

  await mkdir(cache, { recursive: true });
  await removeAbandoned(cache);
  const work = await mkdtemp(join(cache, WORK_PREFIX));
  try {
    say(
      `Installing the editor host (code-server ${version} from the npm registry, ${wanted.size}) into ${place}. ` +
        'This happens once and takes one to three minutes.',
    );
    const editorVersion = await buildHost(work, wanted, programs.ripgrep);
    await writeFile(join(work, MARKER), `${JSON.stringify({ version, editorVersion })}\n`);
    await moveIntoPlace(work, place);
    say(`The editor host is installed: VS Code ${editorVersion}.`);
    return describeHost(wanted, place, editorVersion, programs.chromium);
  } finally {
    await rm(work, { recursive: true, force: true });
  }
}

/** Removes the folders of installations that never finished. */
async function removeAbandoned(cache: string): Promise<void> {
  for (const name of await readdir(cache)) {
    if (!name.startsWith(WORK_PREFIX)) continue;
    const folder = join(cache, name);
    const { mtimeMs } = await stat(folder);
    if (Date.now() - mtimeMs > ABANDONED_AFTER_MS) await rm(folder, { recursive: true, force: true });
  }
}

function describeHost(
  wanted: HostVersion,
  place: string,
  editorVersion: string,
  chromium: string,
): EditorHost {
  const folder = serverFolder(place);
  const node = wanted.node === undefined ? process.execPath : ownNode(place, wanted.node);
  const main = join(folder, 'out', 'server-main.js');
  return { version: wanted.version, editorVersion, folder, main, node, chromium };
}

/** Path of the Node program that was installed with the host. */
function ownNode(place: string, node: string): string {
  return join(place, 'node_modules', nodePackage(node), 'bin', 'node');
}

function serverFolder(place: string): string {
  return join(place, 'node_modules', 'code-server', 'lib', 'vscode');
}

/** The editor's version from the marker file of a finished installation; undefined where there is none. */
async function readMarker(place: string): Promise<string | undefined> {
  try {
    const marker: unknown = JSON.parse(await readFile(join(place, MARKER), 'utf8'));
    if (typeof marker !== 'object' || marker === null || !('editorVersion' in marker)) return undefined;
    return typeof marker.editorVersion === 'string' ? marker.editorVersion : undefined;
  } catch {
    return undefined;
  }
}

/** Installs everything below `work` and returns the version of VS Code that came with it. */
async function buildHost(work: string, wanted: HostVersion, ripgrep: string): Promise<string> {
  const packages = [`code-server@${wanted.version}`];
  if (wanted.node !== undefined) packages.push(`${nodePackage(wanted.node)}@${wanted.node}`);
  await writeFile(join(work, 'package.json'), '{ "name": "editor-host", "private": true }\n');
  await npm(work, ['install', ...packages, '--ignore-scripts', '--no-package-lock']);
  const folder = serverFolder(work);
  // The host's native modules are compiled by and for the Node that runs it.
  const node = wanted.node === undefined ? process.execPath : ownNode(work, wanted.node);
  await npm(folder, ['install', '--ignore-scripts', '--omit=dev'], { node });
  for (const { name, built } of wanted.nativeModules) {
    const output = await npm(folder, ['rebuild', name], { node, mayFail: true });
    if (!existsSync(join(folder, 'node_modules', name, built))) {
      throw new HostProblem(
        `The editor host’s module ${name} could not be compiled. The last lines of npm:\n${lastLines(output, 12)}`,
      );
    }
  }
  if (wanted.ripgrep !== undefined) {
    const link = join(folder, wanted.ripgrep);
    await mkdir(dirname(link), { recursive: true });
    await rm(link, { force: true });
    await symlink(ripgrep, link);
  }
  for (const change of wanted.changes) await applyChange(folder, change);
  return readEditorVersion(folder);
}

async function applyChange(folder: string, { file, from, to }: Change): Promise<void> {
  const text = await readFile(join(folder, file), 'utf8');
  if (!text.includes(from)) throw new HostProblem(`The editor host’s ${file} has no ${from}.`);
  await writeFile(
    join(folder, file),
    text.replace(from, () => to),
  );
}

async function readEditorVersion(folder: string): Promise<string> {
  const description: unknown = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8'));
  if (typeof description === 'object' && description !== null && 'version' in description) {
    return String(description.version);
  }
  throw new HostProblem(`The package in ${folder} names no version of VS Code.`);
}

/** @param options.node the Node that npm runs on and compiles for; where left out, the current one */
async function npm(
  cwd: string,
  args: readonly string[],
  options: { readonly node?: string; readonly mayFail?: boolean } = {},
): Promise<string> {
  const done = await runCommand('npm', [...args, '--no-audit', '--no-fund'], {
    cwd,
    env: npmEnvironment(options.node ?? process.execPath),
    limit: NPM_LIMIT_MS,
  });
  if (done.code !== 0 && options.mayFail !== true) {
    throw new HostProblem(
      `"npm ${args.join(' ')}" did not succeed, so the editor host could not be installed. Is the npm registry ` +
        `reachable, and is Node 20 in use (this is ${process.version})? Its last lines:\n${lastLines(done.output, 12)}`,
    );
  }
  return done.output;
}

/**
 * The environment for npm. It has no variables of an npm that started this process, uses the given Node, and where that
 * Node comes with headers, names them, so that compiling does not download them.
 */
function npmEnvironment(node: string): NodeJS.ProcessEnv {
  const own = /^npm_(package_|lifecycle_|config_(local_prefix|workspaces?|ignore_scripts|omit|include)$)/i;
  const env = Object.fromEntries(Object.entries(process.env).filter(([name]) => !own.test(name)));
  const prefix = dirname(dirname(node));
  const other = node !== process.execPath;
  if (other) env['PATH'] = [dirname(node), env['PATH'] ?? ''].join(delimiter);
  if (
    (other || env['npm_config_nodedir'] === undefined) &&
    existsSync(join(prefix, 'include', 'node', 'node.h'))
  ) {
    env['npm_config_nodedir'] = prefix;
  }
  return env;
}

/** Renames the finished folder; where another process was faster, that result is kept. */
async function moveIntoPlace(work: string, place: string): Promise<void> {
  if ((await readMarker(place)) !== undefined) return;
  await rm(place, { recursive: true, force: true });
  try {
    await rename(work, place);
  } catch (error) {
    if ((await readMarker(place)) === undefined) throw error;
  }
}
