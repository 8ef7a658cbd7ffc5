import { randomBytes } from 'node:crypto';
import {
  closeSync,
  futimesSync,
  linkSync,
  lstatSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  utimesSync,
  writeSync,
  type Stats,
} from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { codeOf } from '../disk/errorCode.ts';
import { makeFolder } from '../disk/sync.ts';
import { toFailure, type Failure } from './failure.ts';
import { isProcessRunning } from './runningProcess.ts';

/** A lock whose owner did not say for so long that it is alive is taken over. Milliseconds. */
const lockTimeout = 5_000;
/** Between two tries to get a lock, ms. */
const pause = 100;

/** Throws where the lock is not ours any more. */
export type CheckLock = () => void;

/**
 * Does some work while nobody else flushes the same journal. The lock lies in the journal's folder, so that no file
 * appears next to the user's log. It is a file that holds its owner's token: a process that was stopped for so long that
 * another took the lock over finds another token there, and must leave everything as it is.
 *
 * @param patience for how long another owner is waited for, ms
 * @returns what the work returns; a failure with the code `ELOCKED` where another owner kept the lock, or took it over
 */
export async function withLock<T extends object | undefined>(
  folder: string,
  patience: number,
  work: (check: CheckLock) => Promise<T> | T,
): Promise<T | Failure> {
  const path = join(folder, 'fold.lock');
  const token = `${process.pid} ${randomBytes(8).toString('hex')} ${hostname()}`;
  const isHeld = () => tokenIn(path) === token;
  let heartbeat: ReturnType<typeof setInterval> | undefined;
  try {
    makeFolder(folder);
    for (let tries = Math.ceil(patience / pause); !takeLock(path, token); tries--) {
      if (tries <= 0) throw lockedError();
      await new Promise((resolve) => setTimeout(resolve, pause));
    }
    heartbeat = setInterval(() => renew(path, isHeld), lockTimeout / 4);
    heartbeat.unref();
    return await work(() => {
      if (!isHeld()) throw lockedError();
    });
  } catch (error) {
    return toFailure(error);
  } finally {
    clearInterval(heartbeat);
    // A lock that is left behind grows stale.
    if (isHeld()) removeQuietly(path);
  }
}

function lockedError(): Error {
  return Object.assign(new Error('The lock is held by another process.'), { code: 'ELOCKED' });
}

function tokenIn(path: string): string | undefined {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}

/** Tries to make the lock ours. Throws what the system says where no lock can be made at all. */
function takeLock(path: string, token: string): boolean {
  const there = lstatSync(path, { throwIfNoEntry: false });
  if (there && ((isFresh(there) && !isOwnerGone(path)) || !clearAway(path, there))) return false;
  let file: number;
  try {
    file = openSync(path, 'wx', 0o600);
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    throw error;
  }
  try {
    writeSync(file, token);
    // By our own clock, which the clock of a disk in the network need not agree with.
    const now = Date.now() / 1000;
    futimesSync(file, now, now);
    return true;
  } catch (error) {
    removeQuietly(path);
    throw error;
  } finally {
    closeSync(file);
  }
}

/** A lock that is dated in the future was made before the clock was set back, and is not fresh. */
function isFresh({ mtimeMs }: Stats): boolean {
  return Math.abs(Date.now() - mtimeMs) <= lockTimeout;
}

/** Whether the owner was a process of this machine that has ended. */
function isOwnerGone(path: string): boolean {
  const [, pid, host] = /^(\d+) \w+ (.+)$/.exec(tokenIn(path) ?? '') ?? [];
  return host === hostname() && !isProcessRunning(Number(pid));
}

/** Clears a stale lock away, and no other: another process may have done so meanwhile, and have made its own. */
function clearAway(path: string, stale: Stats): boolean {
  const aside = `${path}.${randomBytes(4).toString('hex')}`;
  try {
    renameSync(path, aside);
    const taken = lstatSync(aside);
    const isStill = taken.ino === stale.ino && taken.mtimeMs === stale.mtimeMs;
    if (!isStill) linkSync(aside, path);
    removeQuietly(aside);
    return isStill;
  } catch {
    // Another process was faster: the next try sees its lock.
    removeQuietly(aside);
    return false;
  }
}

function renew(path: string, isHeld: () => boolean): void {
  try {
    const now = Date.now() / 1000;
    if (isHeld()) utimesSync(path, now, now);
  } catch {
    // A lock that cannot be renewed grows stale, and the check before each step says so.
  }
}

/** Also where it is a folder: an earlier version locked by making one. */
function removeQuietly(path: string): void {
  try {
    rmSync(path, { recursive: true, force: true });
  } catch {
    // It grows stale.
  }
}
