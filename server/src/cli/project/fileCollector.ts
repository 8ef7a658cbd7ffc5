// Written by hand: which files belong to a route is a rule of this project; a library that finds files would read all
// of them.
import { join } from 'node:path';
import { fileKindOf } from '../../files/fileKind.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { ProjectFile } from '../../workspace/project.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import { folderOf, pathOf, uriOf } from '../terminal/paths.ts';
import type { Looks } from './looks.ts';

/** Reads files one after another, together with the files that they name. */
export class FileCollector {
  readonly workspace: Workspace;
  /** Routes that were given, or that a given log names. */
  readonly givenRoutes = new Set<string>();
  private readonly seen = new Set<string>();
  private readonly lookedThrough = new Set<string>();
  private readonly looks: Pick<Looks, 'siblings'>;

  constructor(workspace: Workspace, looks: Pick<Looks, 'siblings'>) {
    this.workspace = workspace;
    this.looks = looks;
  }

  async read(uri: string): Promise<ProjectFile | undefined> {
    if (!this.seen.has(uri)) {
      this.seen.add(uri);
      await this.workspace.reload(uri);
    }
    return this.workspace.file(uri);
  }

  /** Reads a file that was given; the answer is about its route. */
  async readGiven(uri: string): Promise<void> {
    const file = await this.read(uri);
    const route = file && file.kind !== 'route' ? routeUri(uri, file.document.route) : uri;
    if (route === undefined) return;
    this.givenRoutes.add(route);
    await this.readRouteChain(route);
  }

  /**
   * Reads the files in the folder of a route that belong to it: its logs, weeks and pools, and routes that share practice with
   * it. In the folder of a log or a week, these are the same runner's other files.
   */
  async readSiblings(uri: string): Promise<void> {
    const folder = pathOf(folderOf(uri));
    // All files in one folder have the same siblings, so a folder is read once.
    if (this.lookedThrough.has(folder)) return;
    this.lookedThrough.add(folder);
    for (const name of await this.looks.siblings(folder)) {
      const uri = uriOf(join(folder, name));
      await (fileKindOf(name) === 'route' ? this.readRouteChain(uri) : this.read(uri));
    }
  }

  /** Reads a route and the routes that it extends, as far as the workspace reaches. */
  async readRouteChain(uri: string): Promise<void> {
    const visited = new Set<string>();
    for (let here: string | undefined = uri; here !== undefined && !visited.has(here);) {
      visited.add(here);
      const file: ProjectFile | undefined = await this.read(here);
      here = file?.kind === 'route' ? routeUri(here, file.document.extends) : undefined;
    }
  }
}
