import { readdir, stat } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { fileKindOf, stemOf } from '../../files/fileKind.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { ProjectFile, Project, Stray } from '../../workspace/project.ts';
import { filesOf, Workspace } from '../../workspace/workspace.ts';
import { diskFiles, reasonOf, type Refusals } from './diskFiles.ts';
import { folderOf, pathOf, uriOf } from '../terminal/paths.ts';
import { readAhead } from './readAhead.ts';

/** What a command is to speak of. */
export interface Selection {
  /** The routes asked about, with everything that belongs to each. */
  readonly projects: readonly Project[];
  /** Logs and weeks among what was given that belong to no route. */
  readonly strays: readonly Stray[];
  /** Every file that the answer stands on, each once. */
  readonly files: readonly ProjectFile[];
}

/** The files that a command was given, read, with what belongs to them. */
export interface LoadedFiles {
  readonly workspace: Workspace;
  /** URIs of the folders given. */
  readonly folders: readonly string[];
  /** Whether a file was given itself, or lies below a folder that was. */
  isGiven(uri: string): boolean;
  /** What the files, as they stand in the workspace now, come to. */
  select(): Selection;
  /** Files that could not be read, and why. */
  readonly refused: readonly { readonly uri: string; readonly reason: string }[];
}

/** What cannot be worked with at all, in a sentence. */
export interface InputError {
  readonly message: string;
}

/**
 * Reads what a command was given: a folder with everything below it; a route with the logs and weeks beside it
 * and the routes it extends; a log or week as its route.
 *
 * @param paths as written; none means the current folder
 */
export async function loadFiles(cwd: string, paths: readonly string[]): Promise<LoadedFiles | InputError> {
  const folders: string[] = [];
  const files: string[] = [];
  for (const written of paths.length > 0 ? paths : ['.']) {
    const path = resolve(cwd, written);
    const found = await pathKind(path, written);
    if (typeof found === 'object') return found;
    (found === 'folder' ? folders : files).push(uriOf(path));
  }

  const refusals: Refusals = new Map();
  const source = diskFiles(refusals);
  const listed: string[] = [];
  for (const folder of folders) listed.push(...(await source.list(folder)));
  const reader = new FileCollector(new Workspace(readAhead(source, [...new Set([...listed, ...files])])));
  for (const uri of listed) await reader.read(uri);
  for (const uri of files) await reader.readGiven(uri);
  for (const route of [...reader.givenRoutes]) await reader.readSiblings(route);
  reader.workspace.setFolders([...new Set([...folders, ...reader.folders])]);

  const named = new Set(files);
  const given = (uri: string): boolean =>
    named.has(uri) || folders.some((folder) => uri.startsWith(`${folder}/`));
  const { workspace, givenRoutes: asked } = reader;
  const stems = new Set([...asked].map(stemOf));
  const refused = [...refusals]
    .filter(([uri]) => given(uri) || asked.has(uri) || stems.has(stemOf(uri)))
    .map(([uri, reason]) => ({ uri, reason }))
    .sort((a, b) => (a.uri < b.uri ? -1 : 1));
  return { workspace, folders, isGiven: given, refused, select: () => select(workspace, given, asked) };
}

async function pathKind(path: string, written: string): Promise<'folder' | 'file' | InputError> {
  try {
    const found = await stat(path);
    if (found.isDirectory()) {
      await readdir(path);
      return 'folder';
    }
  } catch (error) {
    return { message: `${written} cannot be read: ${reasonOf(error)}.` };
  }
  if (fileKindOf(basename(path))) return 'file';
  const endings = '.route.yaml, .practice.yaml, .runs.yaml or .week.yaml';
  return { message: `${written} is no file of a route. Their names end in ${endings}.` };
}

/** Reads files one after another and goes where they point. */
class FileCollector {
  readonly workspace: Workspace;
  /** Routes given, or named by a log that was given. */
  readonly givenRoutes = new Set<string>();
  /** Folders of all that was read or looked for by name: a file missing there is missing, not out of reach. */
  readonly folders = new Set<string>();
  private readonly seen = new Set<string>();
  private readonly lookedThrough = new Set<string>();

  constructor(workspace: Workspace) {
    this.workspace = workspace;
  }

  async read(uri: string): Promise<ProjectFile | undefined> {
    if (!this.seen.has(uri)) {
      this.seen.add(uri);
      await this.workspace.reload(uri);
    }
    return this.workspace.file(uri);
  }

  /** A file that was given: the answer is about its route. */
  async readGiven(uri: string): Promise<void> {
    this.folders.add(folderOf(uri));
    const file = await this.read(uri);
    const route = file && file.kind !== 'route' ? routeUri(uri, file.document.route) : uri;
    if (route === undefined) return;
    this.givenRoutes.add(route);
    await this.readRouteChain(route);
  }

  /** What lies beside a route: its logs and weeks, and routes that share their practice with it. */
  async readSiblings(route: string): Promise<void> {
    const folder = pathOf(folderOf(route));
    // Of many routes in one folder, each has the same beside it.
    if (this.lookedThrough.has(folder)) return;
    this.lookedThrough.add(folder);
    const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
    const names = entries
      .filter((entry) => !entry.isDirectory() && fileKindOf(entry.name))
      .map(({ name }) => name);
    for (const name of names.sort()) {
      const uri = uriOf(join(folder, name));
      await (fileKindOf(name) === 'route' ? this.readRouteChain(uri) : this.read(uri));
    }
  }

  /** Reads a route and those it extends, wherever they lie. */
  private async readRouteChain(uri: string): Promise<void> {
    const visited = new Set<string>();
    for (let here: string | undefined = uri; here !== undefined && !visited.has(here);) {
      visited.add(here);
      this.folders.add(folderOf(here));
      const file: ProjectFile | undefined = await this.read(here);
      here = file?.kind === 'route' ? routeUri(here, file.document.extends) : undefined;
    }
  }
}

function select(workspace: Workspace, given: LoadedFiles['isGiven'], asked: ReadonlySet<string>): Selection {
  const groups = workspace.groups();
  const projects = groups.projects.filter(({ route }) => asked.has(route.uri) || given(route.uri));
  // A log beside a route and named like it was most likely meant for it.
  const stems = new Set([...asked].map(stemOf));
  const strays = groups.strays.filter(({ file }) => given(file.uri) || stems.has(stemOf(file.uri)));
  const wanted = new Set([
    ...projects.flatMap((project) => filesOf(project).map(({ uri }) => uri)),
    ...strays.map(({ file }) => file.uri),
  ]);
  const files = workspace.all().filter(({ uri }) => wanted.has(uri) || given(uri));
  return { projects, strays, files };
}
