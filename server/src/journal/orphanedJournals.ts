import { existsSync, readdirSync, readFileSync, realpathSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { restoreFile } from '../disk/leftovers.ts';
import { liveEditors } from './editorMarker.ts';
import type { Failure } from './failure.ts';
import { writePathNote, type Journal } from './journal.ts';
import { isFlushLine, type JournalLine } from './journalLines.ts';
import { withLock } from './lock.ts';
import { shortHash, journalFolder } from './journalPaths.ts';
import { buildJournalState } from './journalState.ts';
import { flushWriter } from './journalFiles.ts';
import { readJournal, setAside } from './journalStore.ts';
import { isNonePending, countPending, type PendingCounts } from './pendingCounts.ts';
import { JournalWriter } from './journalWriter.ts';

/** A journal whose file is no longer there: it was moved, renamed or removed. */
export interface OrphanedJournal {
  /** Where the file was. */
  readonly path: string;
  /** Folder of the journal. */
  readonly folder: string;
  readonly waiting: PendingCounts;
}

/**
 * The journals that hold something and whose file is gone, by path.
 *
 * @param state the folder of all journals
 * @param now ms since 1970
 */
export function orphanedJournals(state: string, now: number): OrphanedJournal[] {
  const journals = join(state, 'journal');
  let names: string[];
  try {
    names = readdirSync(journals);
  } catch {
    return [];
  }
  const found = names.flatMap((name): OrphanedJournal[] => {
    const folder = join(journals, name);
    try {
      const path = readFileSync(join(folder, 'file.txt'), 'utf8').replace(/\n$/, '');
      if (existsSync(path) || (existsSync(dirname(path)) && restoreFile(path))) return [];
      const waiting = countPending(buildJournalState(readJournal(folder).writers, now), new Set());
      return isNonePending(waiting) ? [] : [{ path, folder, waiting }];
    } catch {
      // A journal that cannot be read is reported when somebody opens it.
      return [];
    }
  });
  return found.sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** The folder of the journal of a file that is gone; undefined where none is kept. */
export function orphanedJournalFolder(state: string, path: string): string | undefined {
  const paths = [path];
  try {
    paths.unshift(join(realpathSync.native(dirname(path)), basename(path)));
  } catch {
    // Its folder is gone as well: the path is taken as it is written.
  }
  return paths.map((one) => journalFolder(state, one)).find((folder) => existsSync(folder));
}

/**
 * Moves all that is in the journal of a file that is gone into the journal of the file under its new name. Every line
 * keeps its id, so that nothing is lost if this is interrupted, and nothing counts twice if it is repeated.
 *
 * @param from folder of the journal whose file is gone
 */
export async function adoptJournal(
  from: string,
  journal: Journal,
): Promise<Failure | { readonly lines: number }> {
  if (liveEditors(from).length > 0) return { code: 'ELOCKED', reason: 'an editor has it open still' };
  const done = await withLock(from, 2_000, () =>
    withLock(journal.folder, 2_000, () => {
      const { files, torn, archived, archive } = readJournal(from, 'all');
      setAside(journal.folder, torn);
      writePathNote(journal.folder, journal.path);
      const lines = [...archived, ...files.flatMap((file) => file.lines)];
      // What was sealed goes first: without it, the rest would be taken for new.
      write(journal.folder, flushWriter, lines.filter(isFlushLine));
      const writer = `from-${shortHash(from).slice(0, 8)}`;
      for (const [at, file] of files.entries())
        write(
          journal.folder,
          `${writer}-${at}`,
          file.lines.filter((line) => !isFlushLine(line)),
        );
      for (const name of [...files.map((file) => file.name), ...archive])
        rmSync(join(from, name), { force: true });
      rmSync(join(from, 'file.txt'), { force: true });
      return { lines: lines.length };
    }),
  );
  if ('lines' in done) rmSync(from, { recursive: true, force: true });
  return done;
}

/** Writes lines and syncs them to the disk. Throws what the system says. */
function write(folder: string, name: string, lines: readonly JournalLine[]): void {
  if (lines.length === 0) return;
  const writer = new JournalWriter(folder, name);
  const failure = writer.append(lines) ?? writer.sync();
  writer.close();
  if (failure) throw Object.assign(new Error(failure.reason), { code: failure.code });
}
