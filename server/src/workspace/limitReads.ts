import type { Unread } from '../files/reading/unread.ts';
import type { FileSource } from './fileSource.ts';

/** How many files are read at the same time, and for how long each. */
export interface ReadLimits {
  readonly places: number;
  /** Seconds after which a read is given up. */
  readonly seconds: number;
}

/** For the disk: Node reads with four threads, and one is left for what must be written. */
export const diskLimits: ReadLimits = { places: 3, seconds: 10 };

/** For files that the editor reads, often over a network. */
export const editorLimits: ReadLimits = { places: 16, seconds: 10 };

/**
 * The same files, a few at a time and each within a time limit. Nothing can end a read that was given up, so it keeps
 * its place until it ends by itself; where no place is left but such ones, further files are given up at once.
 */
export function limitReads(source: FileSource, { places, seconds }: ReadLimits): FileSource {
  const noAnswer: Unread = { why: 'no-answer', detail: String(seconds) };
  const waiting: ((admitted: boolean) => void)[] = [];
  let free = places;
  let overdue = 0;

  const admit = (): Promise<boolean> => {
    if (free === 0)
      return overdue === places ? Promise.resolve(false) : new Promise((done) => waiting.push(done));
    free--;
    return Promise.resolve(true);
  };
  const leave = (): void => {
    const next = waiting.shift();
    if (next) next(true);
    else free++;
  };

  return {
    list: (folder) => source.list(folder),
    async read(uri, within) {
      if (!(await admit())) return noAnswer;
      return new Promise((resolve, reject) => {
        let late = false;
        const timer = setTimeout(() => {
          late = true;
          resolve(noAnswer);
          if (++overdue === places) for (const refuse of waiting.splice(0)) refuse(false);
        }, seconds * 1000);
        const ended = (): void => {
          clearTimeout(timer);
          if (late) overdue--;
          leave();
        };
        source.read(uri, within).then(resolve, reject).finally(ended);
      });
    },
  };
}
