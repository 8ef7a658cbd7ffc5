// Written by hand: how far a command looks without being told is a rule of this project.
import { readdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { restoreFiles } from '../../disk/leftovers.ts';
import { holdsHome, repositoryOf } from '../../disk/reach.ts';
import { fileKindOf } from '../../files/fileKind.ts';
import { skippedFolders } from '../../workspace/nodeFileSource.ts';

/** The files that a command reads which was given none. */
export interface NearbyFiles {
  /** Absolute path of the folder that they are in or below: the current one, or one above it. */
  readonly folder: string;
  /** Absolute paths, sorted. */
  readonly paths: readonly string[];
  /** Whether the search ended before it had seen all that it should. */
  readonly cutShort: boolean;
}

/** How far one search goes. */
export interface SearchLimits {
  /** Levels of folders below the one that is looked in. */
  readonly levels: number;
  readonly folders: number;
  readonly milliseconds: number;
}

/** A repository was put together on purpose, so all of its usual depth is looked through. */
const inRepository: SearchLimits = { levels: 6, folders: 20_000, milliseconds: 10_000 };
const elsewhere: SearchLimits = { levels: 3, folders: 2_000, milliseconds: 1_200 };
/** The home folder and those above it hold everything that a person has: only the folders directly in them. */
const aboveHome: SearchLimits = { levels: 1, folders: 500, milliseconds: 800 };

/**
 * Looks for files of routes in the current folder and some levels below it; where there is no route, in the folder above
 * with what is below that, up to the root of the repository (the folder that holds `.git`). Outside a repository nothing
 * above the current folder is looked at.
 *
 * @param cwd absolute path of the current folder
 * @param limits default: as the place suggests
 */
export async function nearbyFiles(cwd: string, limits = limitsFor(cwd)): Promise<NearbyFiles> {
  const root = repositoryOf(cwd) ?? cwd;
  const search = new Search(limits);
  let own: readonly string[] | undefined;
  for (let here = cwd; ; here = dirname(here)) {
    const paths = await search.filesBelow(here);
    if (paths.some((path) => fileKindOf(path) === 'route'))
      return { folder: here, paths, cutShort: search.isOver };
    own ??= paths;
    // Without a route the answer is about the current folder: logs there belong to none.
    if (here === root || search.isOver) return { folder: cwd, paths: own, cutShort: search.isOver };
  }
}

function limitsFor(cwd: string): SearchLimits {
  if (holdsHome(cwd)) return aboveHome;
  return repositoryOf(cwd) === undefined ? elsewhere : inRepository;
}

/** One search, whose limits hold for all that it looks at together. */
class Search {
  /** Whether a limit was met. */
  isOver = false;
  private readonly levels: number;
  private foldersLeft: number;
  private readonly late: Promise<undefined>;

  constructor({ levels, folders, milliseconds }: SearchLimits) {
    this.levels = levels;
    this.foldersLeft = folders;
    this.late = new Promise((resolve) => {
      const timer = setTimeout(() => {
        this.isOver = true;
        resolve(undefined);
      }, milliseconds);
      timer.unref();
    });
  }

  /** Files of the five kinds in a folder and below it, sorted. Nearer folders are looked at first. */
  async filesBelow(folder: string): Promise<string[]> {
    const found: string[] = [];
    let level = [folder];
    for (let depth = 0; depth <= this.levels && level.length > 0; depth++) {
      const below: string[] = [];
      for (const here of level) {
        below.push(...(await this.look(here, found)));
        if (this.isOver) return found.sort();
      }
      level = below;
    }
    return found.sort();
  }

  /** Adds the files of one folder, and gives the folders in it. Links to folders are not followed. */
  private async look(here: string, found: string[]): Promise<string[]> {
    if (this.foldersLeft === 0) {
      this.isOver = true;
      return [];
    }
    this.foldersLeft -= 1;
    // A folder that was removed meanwhile or may not be read counts as empty; one on a disk that does not answer is left.
    const entries = await Promise.race([readdir(here, { withFileTypes: true }).catch(() => []), this.late]);
    if (entries === undefined) return [];
    const names = entries.filter((entry) => !entry.isDirectory()).map(({ name }) => name);
    for (const name of new Set([...names, ...restoreFiles(here, names)]))
      if (fileKindOf(name)) found.push(join(here, name));
    return entries
      .filter((entry) => entry.isDirectory() && !skippedFolders.has(entry.name))
      .map(({ name }) => join(here, name));
  }
}
