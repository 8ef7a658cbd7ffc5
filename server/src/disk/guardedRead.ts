import { closeSync, constants, fstatSync, lstatSync, openSync, readSync, realpathSync } from 'node:fs';
import type { Stats } from 'node:fs';
import { type FileHandle, lstat, open, realpath } from 'node:fs/promises';
import { dirname } from 'node:path';
import { isInside, repositoryOf } from './reach.ts';
import { maxFileBytes, type Unread } from '../files/reading/unread.ts';
import { codeOf } from './errorCode.ts';
import { systemReason } from './systemReason.ts';

/**
 * What a file holds: its text, why it was not read, or undefined where there is no file. A byte-order mark stays in the
 * text.
 */
export type DiskText = string | Unread | undefined;

// A pipe that came into the file's place after it was looked at is opened without waiting for its writer, and a link
// that did is not followed. Windows has neither of the two.
const openFlags = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOFOLLOW ?? 0);

/**
 * Reads a file of text. Only a regular file of at most `maxFileBytes` is read, and only where it really is inside one
 * of the folders.
 *
 * @param path absolute
 * @param within real paths of the folders that it must be in, through whatever links; left out: the
 *   repository of the folder that the path names, else that folder
 */
export async function readGuarded(
  path: string,
  within: readonly string[] = ownReach(path),
): Promise<DiskText> {
  try {
    const real = await realpath(path);
    const refused = refusedPlace(real, within) ?? refusedKind(await lstat(real));
    if (refused) return refused;
    const file = await open(real, openFlags);
    try {
      return await readWhole(file);
    } finally {
      await file.close();
    }
  } catch (error) {
    return unreadFrom(error);
  }
}

async function readWhole(file: FileHandle): Promise<DiskText> {
  const stats = await file.stat();
  const refused = refusedKind(stats) ?? refusedSize(stats.size);
  if (refused) return refused;
  const content = new GrowingBuffer(stats.size);
  for (;;) {
    const { bytesRead } = await file.read(content.free());
    if (bytesRead === 0) return textOf(content.filled());
    content.add(bytesRead);
    const tooLarge = refusedSize(content.length);
    if (tooLarge) return tooLarge;
  }
}

/** The same without waiting, for a file in any encoding. */
export function readGuardedBytesSync(path: string): Uint8Array | Unread | undefined {
  try {
    const real = realpathSync.native(path);
    const refused = refusedPlace(real, ownReach(path)) ?? refusedKind(lstatSync(real));
    if (refused) return refused;
    const file = openSync(real, openFlags);
    try {
      return readWholeSync(file);
    } finally {
      closeSync(file);
    }
  } catch (error) {
    return unreadFrom(error);
  }
}

function readWholeSync(file: number): Uint8Array | Unread {
  const stats = fstatSync(file);
  const refused = refusedKind(stats) ?? refusedSize(stats.size);
  if (refused) return refused;
  const content = new GrowingBuffer(stats.size);
  for (;;) {
    const bytesRead = readSync(file, content.free());
    if (bytesRead === 0) return content.filled();
    content.add(bytesRead);
    const tooLarge = refusedSize(content.length);
    if (tooLarge) return tooLarge;
  }
}

/** A buffer that grows while it is filled: the size that a file claims may be wrong. */
class GrowingBuffer {
  length = 0;
  private bytes: Uint8Array;

  /** @param size expected number of bytes */
  constructor(size: number) {
    // One more than expected, so that the end is noticed without growing.
    this.bytes = new Uint8Array(size + 1);
  }

  /** The part that has not been filled yet. */
  free(): Uint8Array {
    if (this.length === this.bytes.length) {
      const larger = new Uint8Array(2 * this.length + 65_536);
      larger.set(this.bytes);
      this.bytes = larger;
    }
    return this.bytes.subarray(this.length);
  }

  add(count: number): void {
    this.length += count;
  }

  filled(): Uint8Array {
    return this.bytes.subarray(0, this.length);
  }
}

function ownReach(path: string): string[] {
  try {
    const folder = realpathSync.native(dirname(path));
    return [repositoryOf(folder) ?? folder];
  } catch {
    return []; // the folder is not there, so neither is the file
  }
}

function refusedPlace(real: string, within: readonly string[]): Unread | undefined {
  if (within.some((folder) => isInside(folder, real))) return undefined;
  return { why: 'outside', detail: real };
}

function refusedKind(stats: Stats): Unread | undefined {
  if (stats.isFile()) return undefined;
  const what = stats.isDirectory()
    ? 'a folder'
    : stats.isFIFO()
      ? 'a pipe'
      : stats.isSocket()
        ? 'a socket'
        : 'a device';
  return { why: 'no-file', detail: what };
}

function refusedSize(bytes: number): Unread | undefined {
  return bytes > maxFileBytes ? { why: 'too-large', detail: String(bytes) } : undefined;
}

/** Only UTF-8 is read as text; another encoding would be decoded wrongly and written back so. */
function textOf(bytes: Uint8Array): DiskText {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return { why: 'not-text', detail: '' };
  }
}

/** Undefined for a file that does not exist: the rules report that at the line which names the file. */
function unreadFrom(error: unknown): Unread | undefined {
  const code = codeOf(error);
  if (code === 'ENOENT' || code === 'ENOTDIR') return undefined;
  return { why: 'refused', detail: systemReason(error) };
}
