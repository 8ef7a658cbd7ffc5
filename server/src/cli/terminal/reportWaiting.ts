import { platform } from 'node:process';
import { stateFolder } from '../../journal/journalPaths.ts';
import { waitingNotices } from '../../logging/waitingEntries.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { printNotice, type Io } from './io.ts';
import { pathOf, relativeNames } from './paths.ts';

/**
 * Reports what was logged and is still only in the journal: an answer from the files does not count it. The answer
 * depends on the files alone, so that the same files always give the same answer.
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
