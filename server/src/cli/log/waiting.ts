import { existsSync } from 'node:fs';
import { platform } from 'node:process';
import { systemClock } from '../../journal/clock.ts';
import { liveEditors } from '../../journal/editorMarker.ts';
import { orphanedJournals } from '../../journal/orphanedJournals.ts';
import { journalFolder, realPath, stateFolder } from '../../journal/journalPaths.ts';
import { buildJournalState } from '../../journal/journalState.ts';
import { logEntryIds } from '../../journal/logEntries.ts';
import { readJournal } from '../../journal/journalStore.ts';
import { isNonePending, countPending } from '../../journal/pendingCounts.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { pendingEntriesText } from '../../journal/pendingEntriesText.ts';
import type { PracticeFile, RunsFile } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { printNotice, type Io } from '../terminal/io.ts';
import { relativeNames, pathOf } from '../terminal/paths.ts';

/**
 * Tells of what was logged and stands in no file yet: an answer from the files does not count it. The files alone
 * decide the answer, so that the same files always give the same.
 */
export function reportWaiting({ practice, runs }: RunnerFiles, io: Io): void {
  const state = stateFolder(io.env, platform);
  for (const file of [...practice, ...runs]) {
    const sentence = waitingSentence(file, state, io);
    if (sentence !== undefined) printNotice(io, sentence);
  }
}

function waitingSentence(
  { uri, reading }: PracticeFile | RunsFile,
  state: string,
  io: Io,
): string | undefined {
  try {
    const folder = journalFolder(state, realPath(pathOf(uri)));
    if (!existsSync(folder)) return undefined;
    const waiting = countPending(
      buildJournalState(readJournal(folder).writers, systemClock.now()),
      logEntryIds(reading),
    );
    if (isNonePending(waiting)) return undefined;
    const name = sanitizeForTerminal(relativeNames(io.cwd)(uri));
    const wayOut =
      liveEditors(folder).length > 0
        ? 'The editor that has the file open takes up what is over: save it there.'
        : waiting.open
          ? `What is over goes in with: routewright log ${name}, and the block that is open with its end: routewright log --end ${name}`
          : `It goes in with: routewright log ${name}`;
    return `Not counted here: ${pendingEntriesText(waiting)} in the journal of ${name}. ${wayOut}`;
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return `The journal of ${sanitizeForTerminal(relativeNames(io.cwd)(uri))} cannot be read: ${reason}.`;
  }
}

/** Tells of attempts whose file was moved, renamed or removed, and how they come into the file it is now. */
export function reportLeftBehind(io: Io, state: string, now: number): void {
  for (const { path, folder, waiting } of orphanedJournals(state, now))
    printNotice(
      io,
      `${pendingEntriesText(waiting)} in a journal for ${sanitizeForTerminal(path)}, which is no longer there. If it was moved or ` +
        `renamed: routewright log --moved-from ${sanitizeForTerminal(path)} NEW-FILE. If nothing of it is wanted, delete ${folder}`,
    );
}
