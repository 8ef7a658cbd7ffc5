import {
  closeSync,
  constants,
  fstatSync,
  lstatSync,
  openSync,
  readFileSync,
  type BigIntStats,
} from 'node:fs';
import { maxFileBytes } from '../files/reading/unread.ts';
import { codeOf } from './errorCode.ts';

/** A file as it was read: its bytes, and by what another file or a later state of it is recognised. */
export interface StandingFile {
  readonly path: string;
  readonly bytes: Buffer;
  readonly stats: BigIntStats;
}

/** Reads a file that is to be replaced. Throws what the system says. */
export function readStanding(path: string): StandingFile {
  const handle = openSync(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  try {
    const stats = fstatSync(handle, { bigint: true });
    if (!stats.isFile()) throw new Error('it is no regular file');
    if (stats.size > maxFileBytes) throw new Error('it is too large');
    return { path, bytes: readFileSync(handle), stats };
  } finally {
    closeSync(handle);
  }
}

/**
 * Reads a file once no program seems to be in the middle of writing it: programs that write in place empty a file
 * first, and the last line is the last to be whole.
 *
 * @param pause resolves after so many milliseconds
 */
export async function readSettled(path: string, pause: Pause): Promise<StandingFile> {
  for (let looks = 0; ; looks++) {
    const standing = readStanding(path);
    if (standing.bytes.at(-1) === lineFeed || looks === mostLooks || (await staysAs(standing, pause)))
      return standing;
  }
}

/** Whether a file keeps its bytes for a while. */
export async function staysAs({ path, bytes }: StandingFile, pause: Pause): Promise<boolean> {
  for (let looks = 0; looks < quietLooks; looks++) {
    await pause(betweenLooks);
    if (!bytesAt(path)?.equals(bytes)) return false;
  }
  return true;
}

const lineFeed = 10;

/** Resolves after so many milliseconds. */
export type Pause = (milliseconds: number) => Promise<void>;

/**
 * The bytes of a file once nothing in it has changed for a while.
 *
 * @param seen the bytes that it had
 * @returns undefined where there is no such file any more
 */
export async function bytesOnceQuiet(path: string, seen: Buffer, pause: Pause): Promise<Buffer | undefined> {
  let before = seen;
  for (let looks = 0, quiet = 0; looks < mostLooks && quiet < quietLooks; looks++) {
    await pause(betweenLooks);
    const now = bytesAt(path);
    if (!now) return undefined;
    quiet = now.equals(before) ? quiet + 1 : 0;
    before = now;
  }
  return before;
}

/** Milliseconds. */
const betweenLooks = 20;
/** So many looks without a change mean that nobody writes any more. */
const quietLooks = 5;
const mostLooks = 100;

/** Whether a file is still the one that was read, with the same bytes. */
export function isUnchanged({ path, bytes, stats }: StandingFile): boolean {
  const now = lstatSync(path, { bigint: true, throwIfNoEntry: false });
  return now !== undefined && isSameState(now, stats) && (bytesAt(path)?.equals(bytes) ?? false);
}

/**
 * Whether a file is the same one, of the same size and time. The time of the last change of its names is left out:
 * taking a name away changes it.
 */
export function isSameState(one: BigIntStats, other: BigIntStats): boolean {
  return (
    one.ino === other.ino && one.dev === other.dev && one.size === other.size && one.mtimeNs === other.mtimeNs
  );
}

/** The bytes of a file; undefined where there is none. */
export function bytesAt(path: string): Buffer | undefined {
  try {
    return readFileSync(path);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
}
