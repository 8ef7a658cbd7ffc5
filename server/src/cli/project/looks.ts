import { createHash } from 'node:crypto';
import { readdirSync, statSync } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { readGuardedBytesSync } from '../../disk/guardedRead.ts';
import { holdsHome, isInside, repositoryOf } from '../../disk/reach.ts';
import { fileKindOf } from '../../files/fileKind.ts';
import { nearlyNamed } from '../../files/reading/misnamed.ts';
import { journalFolder, realPath } from '../../journal/journalPaths.ts';
import { runnerDayOf } from '../../text/calendar.ts';
import type { FileSource } from '../../workspace/fileSource.ts';
import { nodeFileSource } from '../../workspace/nodeFileSource.ts';
import type { Io, Look } from '../terminal/io.ts';
import { nearbyFiles } from './nearbyFiles.ts';

/**
 * What a command that answers from files learns of the world around it, besides its arguments. Each is a question with
 * plain data as its answer, so that a later process can ask it again.
 */
export interface Looks {
  /** What a command without a file reads. */
  readonly nearby: typeof nearbyFiles;
  readonly kind: (path: string) => Promise<'folder' | 'file'>;
  /** How far the files may lie that belong to a file given. */
  readonly reach: (path: string, cwd: string) => Promise<string>;
  readonly list: FileSource['list'];
  readonly read: FileSource['read'];
  /** Names of the files of the five kinds in a folder, sorted. */
  readonly siblings: (folder: string) => Promise<readonly string[]>;
  /** Files in a folder whose names are nearly right, each with a digest of its bytes. */
  readonly nearMisses: (folder: string) => Promise<readonly (readonly [name: string, digest: string])[]>;
  /** A mark of the journal of a log: the same as long as nothing was written to it. */
  readonly journal: (state: string, path: string) => Promise<string>;
}

/** The same, with the clock. */
export interface DatedLooks extends Looks {
  /** The runner's day, which begins so many minutes after midnight. */
  readonly day: (dayStarts: number) => Promise<number>;
}

/** Looks at the world as it is now, and tells `io.looked` of each. */
export function looksOf({ looked }: Pick<Io, 'looked'>): Looks {
  const looks = silentLooks();
  return looked === undefined ? looks : telling(looks, looked);
}

/** The same, with the clock of the runner. */
export function datedLooksOf({ now, looked }: Pick<Io, 'now' | 'looked'>): DatedLooks {
  const looks: DatedLooks = {
    ...silentLooks(),
    day: (dayStarts) => Promise.resolve(runnerDayOf(now(), dayStarts)),
  };
  return looked === undefined ? looks : telling(looks, looked);
}

function silentLooks(): Looks {
  const source = nodeFileSource();
  return {
    nearby: nearbyFiles,
    kind: pathKind,
    reach: (path, cwd) => Promise.resolve(reachOf(path, cwd)),
    list: (folder) => source.list(folder),
    read: (uri, within) => source.read(uri, within),
    siblings: siblingNames,
    nearMisses,
    journal: (state, path) => Promise.resolve(journalMark(state, path)),
  };
}

type Ask = (...args: never[]) => Promise<unknown>;

function telling<T extends Looks>(looks: T, looked: (look: Look) => void): T {
  const told = Object.entries(looks as unknown as Readonly<Record<string, Ask>>).map(
    ([kind, ask]): [string, Ask] => [
      kind,
      async (...args) => {
        const result = await ask(...args);
        looked({ kind, args, seen: digestOf(result) });
        return result;
      },
    ],
  );
  return Object.fromEntries(told) as unknown as T;
}

/** Whether each look shows the same now as it did to an earlier process. */
export async function showTheSame(looks: readonly Look[], io: Pick<Io, 'now'>): Promise<boolean> {
  const now = datedLooksOf({ now: io.now }) as unknown as Readonly<Record<string, Ask>>;
  try {
    for (const { kind, args, seen } of looks)
      if (digestOf(await now[kind]!(...(args as never[]))) !== seen) return false;
    return true;
  } catch {
    // What an earlier process saw is not there any more.
    return false;
  }
}

function digestOf(result: unknown): string {
  return createHash('sha256')
    .update(JSON.stringify([result]))
    .digest('base64');
}

/** Throws what the system says of a path that cannot be read. */
async function pathKind(path: string): Promise<'folder' | 'file'> {
  if (!(await stat(path)).isDirectory()) return 'file';
  await readdir(path);
  return 'folder';
}

/**
 * How far the files may lie that belong to a file given: its repository; without one the current folder, where the file
 * is below it; else its own folder.
 */
export function reachOf(path: string, cwd: string): string {
  const repository = repositoryOf(dirname(path));
  if (repository !== undefined) return repository;
  return isInside(cwd, path) && !holdsHome(cwd) ? cwd : dirname(path);
}

async function siblingNames(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  return entries
    .filter((entry) => !entry.isDirectory() && fileKindOf(entry.name))
    .map(({ name }) => name)
    .sort();
}

async function nearMisses(folder: string): Promise<(readonly [string, string])[]> {
  const names = await readdir(folder).catch(() => []);
  return names
    .filter((name) => nearlyNamed(name) !== undefined)
    .sort()
    .map((name) => [name, digestOf(readGuardedBytesSync(join(folder, name)))]);
}

function journalMark(state: string, path: string): string {
  const folder = journalFolder(state, realPath(path));
  try {
    const files = readdirSync(folder).sort();
    return JSON.stringify(
      files.map((name) => {
        const { size, mtimeMs, ino } = statSync(join(folder, name));
        return [name, size, mtimeMs, ino];
      }),
    );
  } catch {
    return 'none';
  }
}
