import { execFileSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { getuid } from 'node:process';

/** A disk of its own, so small that it can be filled. */
export interface SmallDisk {
  readonly folder: string;
  /** Takes all the room that is left. */
  fill(): void;
  /** Gives the room back that `fill` took. */
  free(): void;
  readOnly(only: boolean): void;
  unmount(): void;
}

/** Mounting needs root; where the tests run as somebody else, as on most CI machines, `sudo` without a password. */
function asRoot(command: string, ...args: readonly string[]): void {
  const all = getuid?.() === 0 ? [command, ...args] : ['sudo', '-n', command, ...args];
  execFileSync(all[0]!, all.slice(1), { stdio: 'pipe' });
}

/** Mounts a disk in memory of some kilobytes at a folder. A full disk and a read-only one stop root, too. */
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
