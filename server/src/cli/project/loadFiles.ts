import { basename, dirname, join, resolve } from 'node:path';
import { systemReason } from '../../disk/systemReason.ts';
import { fileKindOf, stemOf } from '../../files/fileKind.ts';
import type { Project, ProjectFile, Stray } from '../../workspace/project.ts';
import { filesOf, Workspace } from '../../workspace/workspace.ts';
import { cliError, type CliError, isCliError } from '../terminal/cliError.ts';
import { type Io, printNotice, slowProgress } from '../terminal/io.ts';
import { pathOf, uriOf } from '../terminal/paths.ts';
import { FileCollector } from './fileCollector.ts';
import { type Looks, looksOf } from './looks.ts';
import { problemOf } from './misnamedFiles.ts';
import { readAhead } from './readAhead.ts';

/** What a command answers about. */
export interface Selection {
  /** The routes that the command answers about, each with all files that belong to it. */
  readonly projects: readonly Project[];
  /** Given logs, weeks and pools that belong to no route. */
  readonly strays: readonly Stray[];
  /** Every file that the answer depends on, each once. */
  readonly files: readonly ProjectFile[];
}

/** The files that a command was given, parsed, together with the files that belong to them. */
export interface LoadedFiles {
  readonly workspace: Workspace;
  /** Whether a file was given itself, or is in a given folder at any depth. */
  isGiven(uri: string): boolean;
  /** Absolute paths of the folders that were looked at for files of the five kinds, and that held some or were given. */
  readonly folders: readonly string[];
  /** The selection, from the files as they are in the workspace now. */
  select(): Selection;
  /** Whether one of the selected files was not read, or not looked for to the end, so that the answer may lack something. */
  readonly incomplete: boolean;
}

/** Where a command runs, and where it says what takes long. */
type Place = Pick<Io, 'cwd' | 'env' | 'stderr' | 'color' | 'looked'>;

/** What is said where the search for files near the current folder ended early. */
export const cutShortNotice =
  'There are too many folders near here to look through all of them: name the file or folder that is meant.';

/**
 * Reads the files that a command was given: a folder with everything below it; a route with the logs, weeks and pools
 * in its folder and the routes that it extends; one of these together with its route and with what lies beside either, and
 * so each of those in a folder without a route. Nothing outside the given folders is read, nor outside the repository of a
 * given file (`reachOf`) or of a given folder without a route. Where that takes long, a terminal shows what is read.
 *
 * @param paths as written; none means what is near the current folder (`nearbyFiles`)
 */
export async function loadFiles(io: Place, paths: readonly string[]): Promise<LoadedFiles | CliError> {
  const progress = slowProgress(io);
  try {
    return await read(io, paths, progress.show);
  } finally {
    progress.end();
  }
}

/** @param show is told what is read now, in half a sentence */
async function read(
  io: Place,
  paths: readonly string[],
  show: (what: string) => void,
): Promise<LoadedFiles | CliError> {
  const { cwd } = io;
  const folders: string[] = [];
  const files: string[] = [];
  const reach = new Set<string>();
  const listed: string[] = [];
  const logsOnly: string[] = [];
  const looks = looksOf(io);
  let cutShort = false;
  if (paths.length === 0) {
    show('Looking for routes');
    const nearby = await looks.nearby(cwd);
    folders.push(uriOf(nearby.folder));
    reach.add(uriOf(nearby.folder));
    listed.push(...nearby.paths.map(uriOf));
    cutShort = nearby.cutShort;
    if (cutShort) printNotice(io, cutShortNotice);
  }
  for (const written of paths) {
    const path = resolve(cwd, written);
    const kind = await kindOfGiven(looks, path, written);
    if (isCliError(kind)) return kind;
    (kind === 'folder' ? folders : files).push(uriOf(path));
    if (kind === 'file') {
      reach.add(uriOf(await looks.reach(path, cwd)));
      continue;
    }
    show(`Looking through ${written}`);
    const found = await looks.list(uriOf(path));
    const holdsRoute = found.some((uri) => fileKindOf(uri) === 'route');
    // One runner's folder: the route of its files lies elsewhere in its repository.
    if (!holdsRoute) logsOnly.push(...found);
    reach.add(uriOf(holdsRoute ? path : await looks.reach(join(path, 'any'), path)));
    listed.push(...found);
  }
  const ahead = readAhead(looks, [...new Set([...listed, ...files])]);
  const reader = new FileCollector(new Workspace(ahead, [...reach]), looks);
  for (const [index, uri] of listed.entries()) {
    show(`Reading file ${index + 1} of ${listed.length}, ${basename(pathOf(uri))}`);
    await reader.read(uri);
  }
  for (const uri of [...files, ...logsOnly]) await reader.readGiven(uri);
  for (const uri of [...reader.givenRoutes, ...files]) await reader.readSiblings(uri);

  const named = new Set(files);
  const isGiven = (uri: string): boolean =>
    named.has(uri) || folders.some((folder) => uri.startsWith(`${folder}/`));
  const { workspace, givenRoutes } = reader;
  // Without a path a command is about what is below the current folder, also where the route lies above.
  const here = `${uriOf(cwd)}/`;
  workspace.setGiven(paths.length === 0 ? (uri) => uri.startsWith(here) : isGiven);
  const selected = () => select(workspace, isGiven, givenRoutes);
  const incomplete = cutShort || selected().files.some(({ reading }) => reading.unread);
  const looked = [...folders.map(pathOf), ...workspace.all().map(({ uri }) => dirname(pathOf(uri)))];
  return { workspace, isGiven, incomplete, folders: looked, select: selected };
}

async function kindOfGiven(
  looks: Looks,
  path: string,
  written: string,
): Promise<'folder' | 'file' | CliError> {
  try {
    if ((await looks.kind(path)) === 'folder') return 'folder';
  } catch (error) {
    return cliError(`${written} cannot be read: ${systemReason(error)}.`);
  }
  if (fileKindOf(basename(path))) return 'file';
  const misnamed = problemOf(path);
  if (misnamed) return cliError(`${written}: ${misnamed.message}`);
  const endings = '.route.yaml, .practice.yaml, .runs.yaml, .week.yaml or .pool.yaml';
  return cliError(`${written} is no file of a route. Their names end in ${endings}.`);
}

function select(
  workspace: Workspace,
  isGiven: LoadedFiles['isGiven'],
  givenRoutes: ReadonlySet<string>,
): Selection {
  const groups = workspace.groups();
  const projects = groups.projects.filter(({ route }) => givenRoutes.has(route.uri) || isGiven(route.uri));
  // A log in the folder of a route and with the same first part of its name was most likely written for that route.
  const stems = new Set([...givenRoutes].map(stemOf));
  const strays = groups.strays.filter(({ file }) => isGiven(file.uri) || stems.has(stemOf(file.uri)));
  const wanted = new Set([
    ...projects.flatMap((project) => filesOf(project).map(({ uri }) => uri)),
    ...strays.map(({ file }) => file.uri),
  ]);
  const files = workspace.all().filter(({ uri }) => wanted.has(uri) || isGiven(uri));
  return { projects, strays, files };
}
