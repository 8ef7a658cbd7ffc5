import { existsSync, readdirSync, statSync } from 'node:fs';
import { hostname } from 'node:os';
import { isAbsolute, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { LogJournal, LogJournals } from './logJournal.ts';
import { systemClock } from './clock.ts';
import { failureOf, isFailure } from './failure.ts';
import { plainText } from '../text/terminalText.ts';
import { waitingWords } from '../reports/pendingEntriesText.ts';
import { foldToEditor, settle } from './flush.ts';
import { openJournal, type Journal } from './journal.ts';
import { leftBehind } from './orphanedJournals.ts';
import { hashed, journalFolder, realPath } from './journalPaths.ts';
import { readStored } from './journalStore.ts';

/**
 * The journals in the user's state folder, for an editor.
 *
 * @param state the folder of all journals
 */
export function editorJournals(state: string): LogJournals {
  return {
    open(uri) {
      try {
        const writer = `editor-${hashed(hostname()).slice(0, 8)}`;
        const journal = openJournal(fileURLToPath(uri), { state, clock: systemClock, writer });
        if (isFailure(journal)) return Promise.resolve(journal);
        const failure = journal.claim();
        return Promise.resolve(failure ?? inEditor(journal));
      } catch (error) {
        return Promise.resolve(failureOf(error));
      }
    },
    waits(uri) {
      try {
        return Promise.resolve(existsSync(journalFolder(state, realPath(fileURLToPath(uri)))));
      } catch {
        return Promise.resolve(false);
      }
    },
    leftBehind(folder) {
      let path: string;
      try {
        path = realPath(fileURLToPath(folder));
      } catch {
        return [];
      }
      return leftBehind(state, systemClock.now()).flatMap((one) => {
        const inside = relative(path, one.path);
        if (inside.startsWith('..') || isAbsolute(inside)) return [];
        const name = plainText(inside.split(sep).join('/'));
        return [
          `${waitingWords(one.waiting)} in a journal for ${name}, which is no longer there. If it was moved or renamed, ` +
            `bring it in on the command line: routewright log --moved-from ${name} NEW-FILE`,
        ];
      });
    },
    promise: () =>
      'An attempt is in the journal as soon as it is counted, and outlives a crash of the editor.',
  };
}

function inEditor(journal: Journal): LogJournal {
  return {
    clock: journal.clock,
    newId: journal.newId,
    append: (...lines) => journal.append(...lines),
    lines() {
      try {
        return readStored(journal.folder).writers.flat();
      } catch (error) {
        return failureOf(error);
      }
    },
    state() {
      const pending = journal.pending();
      return isFailure(pending) ? pending : pending.state;
    },
    stamp: () => stampOf(journal.folder),
    folds: () => journal.folds(),
    fold: (text, { dayStarts, applied }) => foldToEditor(journal, text, { dayStarts, leaveOut: applied }),
    async settle(savedText, applied) {
      await settle(journal, savedText, applied);
    },
    close: () => void journal.close(),
  };
}

/** Names and sizes of the files with lines. */
function stampOf(folder: string): string {
  try {
    const names = readdirSync(folder).filter((name) => name.endsWith('.jsonl'));
    return names
      .sort()
      .map((name) => `${name} ${statSync(join(folder, name)).size}`)
      .join('\n');
  } catch {
    // A file was put aside in between: the next look tells.
    return '';
  }
}
