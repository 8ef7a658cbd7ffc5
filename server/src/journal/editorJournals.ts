import { existsSync, readdirSync, statSync } from 'node:fs';
import { hostname } from 'node:os';
import { isAbsolute, join, relative, sep } from 'node:path';
import { platform } from 'node:process';
import { fileURLToPath } from 'node:url';
import type { LogJournal, LogJournals } from './logJournal.ts';
import { systemClock } from './clock.ts';
import { toFailure, isFailure } from './failure.ts';
import { sanitizeForTerminal } from '../safeText/terminal.ts';
import { shellWord } from '../text/shellWord.ts';
import { pendingEntriesText } from './pendingEntriesText.ts';
import { flushToEditor, confirmSaved } from './flush.ts';
import { openJournal, type Journal } from './journal.ts';
import { orphanedJournals } from './orphanedJournals.ts';
import { shortHash, journalFolder, realPath } from './journalPaths.ts';
import { readJournal } from './journalStore.ts';

/**
 * The journals in the user's state folder, for an editor.
 *
 * @param state the folder of all journals
 */
export function editorJournals(state: string): LogJournals {
  return {
    clock: systemClock,
    open(uri) {
      try {
        const writer = `editor-${shortHash(hostname()).slice(0, 8)}`;
        const journal = openJournal(fileURLToPath(uri), { state, clock: systemClock, writer });
        if (isFailure(journal)) return Promise.resolve(journal);
        const failure = journal.markOpen();
        return Promise.resolve(failure ?? toLogJournal(journal));
      } catch (error) {
        return Promise.resolve(toFailure(error));
      }
    },
    mayHavePending(uri) {
      try {
        return Promise.resolve(existsSync(journalFolder(state, realPath(fileURLToPath(uri)))));
      } catch {
        return Promise.resolve(false);
      }
    },
    orphanNotices(folder) {
      let path: string;
      try {
        path = realPath(fileURLToPath(folder));
      } catch {
        return [];
      }
      return orphanedJournals(state, systemClock.now()).flatMap((one) => {
        const inside = relative(path, one.path);
        if (inside.startsWith('..') || isAbsolute(inside)) return [];
        const name = sanitizeForTerminal(inside.split(sep).join('/'));
        return [
          `${pendingEntriesText(one.waiting)} in a journal for ${name}, which is no longer there. If it was moved or renamed, ` +
            `bring it in on the command line: routewright log --moved-from ${shellWord(name, platform)} NEW-FILE`,
        ];
      });
    },
    durabilityNotice: () => 'Every attempt is kept at once, even if the editor crashes.',
  };
}

function toLogJournal(journal: Journal): LogJournal {
  return {
    clock: journal.clock,
    newId: journal.newId,
    append: (...lines) => journal.append(...lines),
    lines() {
      try {
        return readJournal(journal.folder).writers.flat();
      } catch (error) {
        return toFailure(error);
      }
    },
    state(extent) {
      const pending = journal.pending(extent);
      return isFailure(pending) ? pending : pending.state;
    },
    revision: () => revisionOf(journal.folder),
    ownsFlush: () => journal.ownsFlush(),
    planFlush: (text, { dayStarts, applied }) =>
      flushToEditor(journal, text, { dayStarts, leaveOut: applied }),
    async confirmSaved(savedText, applied) {
      await confirmSaved(journal, savedText, applied);
    },
    close: () => void journal.close(),
  };
}

/** Names and sizes of the files with lines. */
function revisionOf(folder: string): string {
  try {
    const names = readdirSync(folder).filter((name) => name.endsWith('.jsonl'));
    return names
      .sort()
      .map((name) => `${name} ${statSync(join(folder, name)).size}`)
      .join('\n');
  } catch {
    // A file was put aside meanwhile: the next call sees it.
    return '';
  }
}
