import { execFileSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { getuid } from 'node:process';

/** A disk so small that a test can fill it. */
export interface SmallDisk {
  readonly folder: string;
  /** Fills the free space. */
  fill(): void;
  /** Frees the space that `fill` took. */
  free(): void;
  readOnly(only: boolean): void;
  unmount(): void;
}

/**
 * Mounting needs root. Where the tests run as another user, as on most CI machines, it needs `sudo` without a password.
 */
function asRoot(command: string, ...args: readonly string[]): void {
  const all = getuid?.() === 0 ? [command, ...args] : ['sudo', '-n', command, ...args];
  execFileSync(all[0]!, all.slice(1), { stdio: 'pipe' });
}

/**
 * Mounts a disk in memory of some kilobytes at a folder. Unlike file permissions, a full disk and a read-only disk also
 * stop root.
 */
export function smallDisk(folder: string, kilobytes: number): SmallDisk {
  mkdirSync(folder, { recursive: true });
  asRoot('mount', '-t', 'tmpfs', '-o', `size=${kilobytes}k,mode=0777`, 'tmpfs', folder);
  const ballast = join(folder, 'ballast');
  return {
    folder,
    fill() {
      for (let piece = 0; ; piece++) {
        try {
          writeFileSync(`${ballast}-${piece}`, Buffer.alloc(4096));
        } catch {
          return;
        }
      }
    },
    free() {
      for (let piece = 0; piece < kilobytes; piece++) rmSync(`${ballast}-${piece}`, { force: true });
    },
    readOnly: (only) => asRoot('mount', '-o', `remount,${only ? 'ro' : 'rw'}`, folder),
    unmount: () => asRoot('umount', folder),
  };
}
