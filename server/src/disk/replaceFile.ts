import {
  closeSync,
  fchmodSync,
  fchownSync,
  fstatSync,
  fsyncSync,
  lstatSync,
  openSync,
  renameSync,
  writeFileSync,
  type BigIntStats,
} from 'node:fs';
import { dirname } from 'node:path';
import { codeOf } from './errorCode.ts';
import {
  giveName,
  isSameFile,
  keepBeside,
  remove,
  replacementNames,
  type ReplacementNames,
} from './fileNames.ts';
import {
  bytesAt,
  bytesOnceQuiet,
  isSameState,
  isUnchanged,
  type Pause,
  type StandingFile,
} from './standingFile.ts';
import { syncFolder } from './sync.ts';

/** A file that has taken the place of another, and is on the disk. */
export interface ReplacedFile {
  readonly before: StandingFile;
  /** The bytes that the file has now. */
  readonly bytes: Buffer;
  /**
   * Path of the file that stood there. A program that had it open may still write to it: ask {@link lateBytes}, then
   * call {@link discardOld}.
   */
  readonly old: string;
  /** What the new file does not have of the old one, each in words that follow a colon. */
  readonly notKept: readonly string[];
}

/** Nothing was replaced, because something else changed the file since it was read. */
export interface ChangedFile {
  /** Name of a file beside it that holds what could not be put back; undefined where nothing is lost. */
  readonly keptAs: string | undefined;
}

/**
 * Replaces a file, and only the file that was read: nothing that another program writes there meanwhile is written
 * over. The new text is on the disk before it takes the name, and the name is on the disk when this returns.
 *
 * The old file gives up the name first, because a rename onto it would destroy whatever has the name at that moment.
 * For the time of two calls no file has the name; who finds it so puts the old one back (`leftovers.ts`), and then
 * this begins again.
 *
 * Mode, owner and group are kept where the system allows it. Throws what the system says where something fails; the
 * old file then has its name again.
 *
 * @param check throws where the file must not be replaced any more; it is called when the new text is on the disk
 */
export function replaceFile(
  before: StandingFile,
  text: string,
  check: () => void = () => undefined,
): ReplacedFile | ChangedFile {
  const { path } = before;
  const bytes = Buffer.from(text, 'utf8');
  const names = replacementNames(path, before.bytes);
  const { fresh, old } = names;
  const notKept = writeFresh(fresh, bytes, before.stats);
  try {
    check();
    if (!isUnchanged(before)) {
      remove(fresh);
      return { keptAs: undefined };
    }
    renameSync(path, old);
  } catch (error) {
    remove(fresh);
    throw error;
  }
  const taken = takeName(before.stats, names, path);
  if (taken !== true) {
    const keptAs = putBack(old, path);
    // Not earlier: with both of its names left behind, the file is put back the next time.
    remove(fresh);
    if (taken instanceof Error) throw taken;
    return { keptAs };
  }
  syncFolder(dirname(path));
  return { before, bytes, old, notKept };
}

/**
 * The bytes of a file that was replaced, where another program wrote to it after it was read. Looks until nothing has
 * changed for a while, because programs empty a file before they write to it.
 *
 * @param pause resolves after so many milliseconds
 */
export async function lateBytes({ before, old }: ReplacedFile, pause: Pause): Promise<Buffer | undefined> {
  const bytes = await bytesOnceQuiet(old, before.bytes, pause);
  return !bytes || bytes.equals(before.bytes) ? undefined : bytes;
}

/** Whether a file that was put in place is still what its name stands for. */
export function isInPlace({ before, bytes }: ReplacedFile): boolean {
  return bytesAt(before.path)?.equals(bytes) ?? false;
}

/** Removes the file that was replaced. */
export function discardOld({ old }: ReplacedFile): void {
  remove(old);
}

/** Keeps the file that was replaced under a name beside the new one, and returns that name. */
export function keepOld({ old, before }: ReplacedFile): string | undefined {
  return keepBeside(old, before.path);
}

/** Writes the new text to the disk. Returns what it does not have of the old file. */
function writeFresh(path: string, bytes: Uint8Array, old: BigIntStats): string[] {
  // `wx`: never write through a file or link that somebody else put there.
  const handle = openSync(path, 'wx', 0o600);
  try {
    try {
      writeFileSync(handle, bytes);
      const notKept = keepOwner(handle, old);
      fchmodSync(handle, Number(old.mode) & 0o7777);
      fsyncSync(handle);
      return notKept;
    } finally {
      closeSync(handle);
    }
  } catch (error) {
    remove(path);
    throw error;
  }
}

function keepOwner(handle: number, old: BigIntStats): string[] {
  const own = fstatSync(handle, { bigint: true });
  const links = old.nlink > 1n ? [`its other names (${old.nlink - 1n}) keep the old text`] : [];
  if (own.uid === old.uid && own.gid === old.gid) return links;
  if (tryToOwn(handle, Number(old.uid), Number(old.gid))) return links;
  // Only root may give a file away; a group that one belongs to can be kept.
  const group = own.gid === old.gid || tryToOwn(handle, -1, Number(old.gid));
  return [
    ...(own.uid === old.uid ? [] : ['it has another owner now']),
    ...(group ? [] : ['it has another group now']),
    ...links,
  ];
}

function tryToOwn(handle: number, user: number, group: number): boolean {
  try {
    fchownSync(handle, user, group);
    return true;
  } catch (error) {
    if (!['EPERM', 'EINVAL', 'ENOSYS', 'ENOTSUP'].includes(codeOf(error))) throw error;
    return false;
  }
}

/** Gives the new text the name that the old file gave up, if that was the file that was read. */
function takeName(stats: BigIntStats, { fresh, old }: ReplacementNames, path: string): boolean | Error {
  try {
    return isSameState(lstatSync(old, { bigint: true }), stats) && giveName(fresh, path);
  } catch (error) {
    // Another program put the old file back and removed the new text.
    return codeOf(error) === 'ENOENT' ? false : (error as Error);
  }
}

/**
 * Gives the old file its name back. Where another program made a new file of that name, the old one is kept beside.
 *
 * @returns its name beside; undefined where it has its own name again
 */
function putBack(old: string, path: string): string | undefined {
  if (giveName(old, path)) return undefined;
  if (!isSameFile(old, path)) return keepBeside(old, path);
  remove(old);
  return undefined;
}
