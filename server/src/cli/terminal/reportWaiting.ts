import { platform } from 'node:process';
import { stateFolder } from '../../journal/journalPaths.ts';
import { waitingNotices } from '../../logging/waitingEntries.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { printNotice, type Io } from './io.ts';
import { pathOf, relativeNames } from './paths.ts';

/**
 * Tells of what was logged and is in no file yet: an answer from the files does not count it. The files alone decide
 * the answer, so that the same files always give the same.
 */
export function reportWaiting({ practice, runs }: RunnerFiles, io: Io): void {
  const nameOf = relativeNames(io.cwd);
  const files = [...practice, ...runs].map(({ uri, reading }) => ({
    path: pathOf(uri),
    name: nameOf(uri),
    reading,
  }));
  for (const notice of waitingNotices(files, stateFolder(io.env, platform))) printNotice(io, notice);
}
