import {
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  unlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { threadId } from 'node:worker_threads';
import { isProcessRunning } from './runningProcess.ts';

/** How often an editor renews its marker, and how long after the last time it counts as gone. Milliseconds. */
const heartbeatInterval = 10_000;
const heartbeatTimeout = 45_000;

interface Owner {
  readonly pid: number;
  readonly host: string;
  /** The thread in that process. */
  readonly thread: number;
}

/** The marker of an editor that has a log open. */
export interface EditorMarker {
  /** Whether this editor is the one that flushes: of several, the one that opened the log first. */
  ownsFlush(): boolean;
  release(): void;
}

/**
 * Marks a log as open in an editor. Throws what the system says where the marker cannot be written.
 *
 * @param now ms since 1970
 */
export function markEditor(folder: string, id: string, now: number): EditorMarker {
  const markers = join(folder, 'editors');
  mkdirSync(markers, { recursive: true, mode: 0o700 });
  const name = `${String(now).padStart(15, '0')}-${id}.json`;
  const path = join(markers, name);
  const owner: Owner = { pid: process.pid, host: hostname(), thread: threadId };
  const write = () => writeFileSync(path, JSON.stringify(owner), { mode: 0o600 });
  write();
  const timer = setInterval(() => {
    try {
      const seconds = Date.now() / 1000;
      utimesSync(path, seconds, seconds);
    } catch {
      try {
        write();
      } catch {
        // Without a marker other programs may flush, too: with the lock and the ids nothing is written twice.
      }
    }
  }, heartbeatInterval);
  timer.unref();
  return {
    ownsFlush: () => liveEditors(folder)[0] === name,
    release() {
      clearInterval(timer);
      try {
        unlinkSync(path);
      } catch {
        // A marker that is left grows stale.
      }
    },
  };
}

/** Names of the markers of editors that have the log open now, in the order in which they opened it. */
export function liveEditors(folder: string): string[] {
  const markers = join(folder, 'editors');
  let names: string[];
  try {
    names = readdirSync(markers).filter((name) => name.endsWith('.json'));
  } catch {
    return [];
  }
  return names.sort().filter((name) => isMarkerLive(join(markers, name)));
}

function isMarkerLive(path: string): boolean {
  try {
    const age = Date.now() - statSync(path).mtimeMs;
    if (Math.abs(age) > heartbeatTimeout) return false;
    const owner = JSON.parse(readFileSync(path, 'utf8')) as Partial<Owner>;
    if (owner.host !== hostname() || typeof owner.pid !== 'number') return true;
    // A window runs one server at a time: a marker of another thread of this process was left by a crash.
    if (owner.pid === process.pid && typeof owner.thread === 'number') return owner.thread === threadId;
    return isProcessRunning(owner.pid);
  } catch {
    return false;
  }
}
