import {
  existsSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  renameSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { makeFolder } from '../../disk/sync.ts';
import { fileKindOf } from '../../files/fileKind.ts';
import { shortHash } from '../../journal/journalPaths.ts';
import type { LogVocabulary } from '../../logging/logVocabulary.ts';

/** The files that entries go into, and the names that may be logged there. */
export interface LogTarget extends LogVocabulary {
  /** Paths of the files that entries go into; the one for runs may not exist yet. */
  readonly practice: string;
  readonly runs: string;
  /** Path of the route. */
  readonly route: string;
  /** The runner whose logs they are, where several runners share the route. */
  readonly runner?: string | undefined;
  /** By technique: seconds from one attempt to the next. */
  readonly cycles: Readonly<Record<string, number>>;
  /** Minutes after midnight at which the runner's day begins. */
  readonly dayStarts: number;
}

/** A target in the cache on the disk. */
export interface CachedTarget extends LogTarget {
  /** Routes and weeks that it was computed from: it is valid as long as none of them changed. */
  readonly files: readonly (readonly [path: string, modified: number, size: number])[];
  readonly folders: readonly (readonly [path: string, names: string])[];
  /** The folder that the command ran in: a route there comes before every other. */
  readonly from: readonly [path: string, names: string];
  /** The person's settings, where they named the log. */
  readonly settings?: readonly [path: string, modified: number] | undefined;
}

/**
 * The cached target of a place, where it is still valid. Reading a route would take longer than an attempt may wait.
 *
 * @param state folder in which the tool keeps its own files
 * @param place key of the file or folder and the runner, from `targetKey`
 */
export function validCachedTarget(state: string, place: string): LogTarget | undefined {
  const cached = cachedTarget(state, place);
  try {
    const same = cached?.files.every(([path, modified, size]) => {
      const now = statSync(path);
      return now.mtimeMs === modified && now.size === size;
    });
    return same === true ? cached : undefined;
  } catch {
    return undefined;
  }
}

/** The same, also where routes and weeks have changed; undefined where files were added, removed or renamed. */
export function cachedTarget(state: string, place: string): CachedTarget | undefined {
  try {
    const kept = JSON.parse(readFileSync(targetFile(state, place), 'utf8')) as CachedTarget;
    // One that an earlier version kept may lack some.
    const parts: readonly unknown[] = [kept.techniquesByName, kept.names, kept.uses, kept.from];
    if (
      parts.includes(undefined) ||
      ![...kept.folders, kept.from].every(([path, names]) => namesIn(path) === names)
    )
      return undefined;
    const { settings } = kept;
    return settings === undefined || statSync(settings[0]).mtimeMs === settings[1] ? kept : undefined;
  } catch {
    return undefined;
  }
}

/**
 * Caches a target for the next time. Where that fails, the next time only takes longer.
 *
 * @param read files that it was found by
 * @param cwd the folder that the command ran in
 * @param settings path of the settings, where they named the log
 */
export function cacheTarget(
  state: string,
  place: string,
  target: LogTarget,
  read: readonly string[],
  cwd: string,
  settings?: string,
): void {
  try {
    const files = read
      .filter((path) => fileKindOf(path) === 'route' || fileKindOf(path) === 'week')
      .map((path) => {
        const { mtimeMs, size } = statSync(path);
        return [path, mtimeMs, size] as const;
      });
    const folders = [...new Set(read.map((path) => dirname(path)))].map(
      (path) => [path, namesIn(path)] as const,
    );
    const kept: CachedTarget = {
      ...target,
      files,
      folders,
      from: [cwd, namesIn(cwd)],
      settings: settings === undefined ? undefined : [settings, statSync(settings).mtimeMs],
    };
    const path = targetFile(state, place);
    makeFolder(dirname(path));
    writeFileSync(`${path}.${process.pid}`, JSON.stringify(kept), { mode: 0o600 });
    renameSync(`${path}.${process.pid}`, path);
  } catch {
    // A full or read-only disk is reported by the code that writes the journal.
  }
}

/** The key under which the target of a place is cached. */
export function targetKey(cwd: string, written: string | undefined, runner: string | undefined): string {
  return JSON.stringify([resolve(cwd, written ?? '.'), runner ?? null]);
}

/** What the words of a command line may name on the disk. */
export interface Places {
  /** Whether a word is the name of a folder with a route, a log or a week directly in it, and so no technique. */
  readonly holdsFiles: (word: string) => boolean;
  /** Whether a word is the name of a file or folder that exists. */
  readonly exists: (word: string) => boolean;
}

/** Places as they are named from a folder. */
export function placesFrom(cwd: string): Places {
  return {
    holdsFiles: (word) => holdsFiles(resolve(cwd, word)),
    exists: (word) => existsSync(resolve(cwd, word)),
  };
}

function holdsFiles(path: string): boolean {
  try {
    return readdirSync(path).some((name) => fileKindOf(name) !== undefined);
  } catch {
    return false;
  }
}

/** The file that keeps what is known of a place. */
export function targetFile(state: string, place: string): string {
  return join(state, 'targets', `${shortHash(place)}.json`);
}

function namesIn(folder: string): string {
  return (
    readdirSync(folder, { withFileTypes: true })
      .filter(({ name }) => fileKindOf(name))
      // A file that became a link, or another link, may not be read any more: then the target is found anew.
      .map((entry) =>
        entry.isSymbolicLink() ? `${entry.name} -> ${readlinkSync(join(folder, entry.name))}` : entry.name,
      )
      .sort()
      .join('\n')
  );
}
