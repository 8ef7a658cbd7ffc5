import { closeSync, fsyncSync, mkdirSync, openSync } from 'node:fs';
import { dirname } from 'node:path';
import { platform } from 'node:process';
import { codeOf } from './errorCode.ts';

/** Syncs a folder to the disk, so that a new name in it is kept. Windows has no such call and needs none. */
export function syncFolder(folder: string): void {
  try {
    sync(folder);
  } catch (error) {
    if (!['EPERM', 'EACCES', 'EISDIR', 'EINVAL'].includes(codeOf(error))) throw error;
  }
}

/** Syncs a file and its name to the disk. Throws what the system says. */
export function syncFile(path: string): void {
  // Windows syncs only a file that may be written to.
  sync(path, platform === 'win32' ? 'r+' : 'r');
  syncFolder(dirname(path));
}

/**
 * Makes a folder that only its owner may enter, with all folders above it, and syncs their names to the disk. Does
 * nothing where it exists. Throws what the system says.
 */
export function makeFolder(folder: string): void {
  const first = mkdirSync(folder, { recursive: true, mode: 0o700 });
  if (first === undefined) return;
  // Each new folder is a name in the one above it.
  for (let made = folder; ; made = dirname(made)) {
    syncFolder(dirname(made));
    if (made === first || made === dirname(made)) return;
  }
}

function sync(path: string, flags: 'r' | 'r+' = 'r'): void {
  const handle = openSync(path, flags);
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
