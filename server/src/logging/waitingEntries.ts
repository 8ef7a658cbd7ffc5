import { platform } from 'node:process';
import type { Reading } from '../files/reading/reading.ts';
import { systemClock } from '../journal/clock.ts';
import { liveEditors } from '../journal/editorMarker.ts';
import { journalFolder, realPath } from '../journal/journalPaths.ts';
import { buildJournalState } from '../journal/journalState.ts';
import { readJournal } from '../journal/journalStore.ts';
import { logEntryIds } from '../journal/logEntries.ts';
import { orphanedJournals } from '../journal/orphanedJournals.ts';
import { countPending, isNonePending } from '../journal/pendingCounts.ts';
import { pendingEntriesText } from '../journal/pendingEntriesText.ts';
import { sanitizeForTerminal } from '../safeText/terminal.ts';
import { shellWord } from '../text/shellWord.ts';

/** A log on the disk, as it was read. */
export interface LogOnDisk {
  readonly path: string;
  /** The name that is shown to people. */
  readonly name: string;
  readonly reading: Reading;
}

/**
 * A sentence for each file with logged entries that are not in it yet, which also says how they get in.
 *
 * @param state the folder of all journals
 */
export function waitingNotices(files: readonly LogOnDisk[], state: string): string[] {
  return files.flatMap((file) => waitingNotice(file, state) ?? []);
}

function waitingNotice({ path, name: written, reading }: LogOnDisk, state: string): string | undefined {
  const name = sanitizeForTerminal(written);
  const word = shellWord(name, platform);
  try {
    const folder = journalFolder(state, realPath(path));
    const waiting = countPending(
      buildJournalState(readJournal(folder).writers, systemClock.now()),
      logEntryIds(reading),
    );
    if (isNonePending(waiting)) return undefined;
    const wayOut =
      liveEditors(folder).length > 0
        ? 'Save the file in the editor that has it open: the entries are then written into it.'
        : waiting.open
          ? `Write the finished blocks into it with: routewright log ${word}. The open block follows when you end it: routewright log --end ${word}`
          : `Write it into the file with: routewright log ${word}`;
    return `Not counted here: ${pendingEntriesText(waiting)} in the journal of ${name}. ${wayOut}`;
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return `The journal of ${name} cannot be read: ${reason}.`;
  }
}

/**
 * A sentence for each file that was moved, renamed or removed while attempts waited for it, which also says how they
 * get into the file under its new name.
 *
 * @param state the folder of all journals
 * @param now ms since 1970
 */
export function leftBehindNotices(state: string, now: number): string[] {
  return orphanedJournals(state, now).map(
    ({ path, folder, waiting }) =>
      `${pendingEntriesText(waiting)} in a journal for ${sanitizeForTerminal(path)}, which is no longer there. If it was moved or ` +
      `renamed: routewright log --moved-from ${shellWord(sanitizeForTerminal(path), platform)} NEW-FILE. If nothing of it is wanted, delete ${folder}`,
  );
}
