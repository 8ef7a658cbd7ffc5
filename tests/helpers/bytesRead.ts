import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';

type Call = (...args: unknown[]) => unknown;

/** What some work read, and what it gave. */
export interface Counted<T> {
  readonly bytes: number;
  readonly result: T;
}

/**
 * Counts the bytes that some work reads by Node's calls that wait: `readFileSync` and `readSync`.
 *
 * @param of whether a path counts
 */
export async function bytesRead<T>(
  of: (path: string) => boolean,
  work: () => Promise<T> | T,
): Promise<Counted<T>> {
  const calls = fs as unknown as Record<string, Call>;
  const { openSync, readFileSync, readSync } = calls as Readonly<Record<string, Call>>;
  const opened = new Map<unknown, string>();
  let bytes = 0;
  let inside = false;
  calls.openSync = (...args) => {
    const file = openSync!(...args);
    opened.set(file, String(args[0]));
    return file;
  };
  calls.readFileSync = (...args) => {
    inside = true;
    try {
      const read = readFileSync!(...args) as string | Uint8Array;
      const path = typeof args[0] === 'number' ? (opened.get(args[0]) ?? '') : String(args[0]);
      if (of(path)) bytes += Buffer.byteLength(read);
      return read;
    } finally {
      inside = false;
    }
  };
  calls.readSync = (...args) => {
    const count = readSync!(...args) as number;
    if (!inside && of(opened.get(args[0]) ?? '')) bytes += count;
    return count;
  };
  syncBuiltinESMExports();
  try {
    return { result: await work(), bytes };
  } finally {
    Object.assign(calls, { openSync, readFileSync, readSync });
    syncBuiltinESMExports();
  }
}
