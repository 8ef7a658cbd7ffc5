import { randomBytes } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { restoreFile } from '../disk/leftovers.ts';
import { makeFolder } from '../disk/sync.ts';
import type { Clock } from './clock.ts';
import { liveEditors, markEditor, type EditorMarker } from './editorMarker.ts';
import { toFailure, type Failure } from './failure.ts';
import type { JournalLine } from './journalLines.ts';
import { shortHash, journalFolder, realPath } from './journalPaths.ts';
import { buildJournalState, type JournalExtent, type JournalState } from './journalState.ts';
import { readJournal } from './journalStore.ts';
import { JournalWriter } from './journalWriter.ts';

/** What a journal is opened with. */
export interface JournalOptions {
  /** The folder of all journals and what belongs to them; see `stateFolder`. */
  readonly state: string;
  readonly clock: Clock;
  /** Name of the writer: letters, digits and hyphens. Left out: the command line of this machine. */
  readonly writer?: string;
}

/** What is in the journal, and how much of it could not be read. */
export interface JournalSnapshot {
  readonly state: JournalState;
  /** Lines that are no whole line of a journal, such as one torn by a full disk; none of them was acknowledged. */
  readonly torn: number;
}

/** The journal of one practice or runs file. */
export interface Journal {
  /** Real path of the file. */
  readonly path: string;
  /** Folder of the journal. */
  readonly folder: string;
  readonly clock: Clock;
  /** An id for a line, or for an entry with a letter and a hyphen before it. */
  readonly newId: () => string;
  /** Writes lines; once it returns undefined they outlive the process. */
  append(...lines: JournalLine[]): Failure | undefined;
  /** Syncs to the disk now what would be synced within a second. */
  sync(): Failure | undefined;
  /**
   * What waits to be put into the file, and what was sealed.
   *
   * @param extent `all` where every settled entry that is remembered matters; left out: `needed`
   */
  pending(extent?: JournalExtent): JournalSnapshot | Failure;
  /** Whether an editor other than this journal's own has the file open: it alone puts entries into it. */
  isOpenElsewhere(): boolean;
  /** Marks the file as open in an editor, until `close` or `release`. */
  markOpen(): Failure | undefined;
  /** Whether this journal's editor puts entries into the file: it marked the file as open before any other. */
  ownsFlush(): boolean;
  unmarkOpen(): void;
  close(): Failure | undefined;
}

/**
 * Opens the journal of a practice or runs file, which must exist.
 *
 * @param path of the file; links are followed
 */
export function openJournal(path: string, options: JournalOptions): Journal | Failure {
  let real: string;
  try {
    real = realPathOf(path);
  } catch (error) {
    return toFailure(error);
  }
  const { clock } = options;
  const folder = journalFolder(options.state, real);
  const writer = new JournalWriter(folder, options.writer ?? `cli-${shortHash(hostname()).slice(0, 8)}`);
  const newId = () => randomBytes(8).toString('hex');
  let marker: EditorMarker | undefined;
  let named = false;
  const release = () => {
    marker?.release();
    marker = undefined;
  };
  return {
    path: real,
    folder,
    clock,
    newId,
    append(...lines) {
      if (!named) writePathNote(folder, real);
      named = true;
      return writer.append(lines);
    },
    sync: () => writer.sync(),
    pending(extent = 'needed') {
      const read = (much: JournalExtent) => {
        const stored = readJournal(folder, much);
        return { ...stored, state: buildJournalState(stored.writers, clock.now()) };
      };
      try {
        const needed = read(extent);
        // Where all of the latest entries were taken back, what was logged before them is in the archive.
        const { state, torn } = needed.whole || needed.state.lastLogged() ? needed : read('all');
        return { state, torn: torn.length };
      } catch (error) {
        return toFailure(error);
      }
    },
    isOpenElsewhere: () => (marker ? !marker.ownsFlush() : liveEditors(folder).length > 0),
    markOpen() {
      try {
        makeFolder(folder);
        marker ??= markEditor(folder, newId(), clock.now());
        return undefined;
      } catch (error) {
        return toFailure(error);
      }
    },
    ownsFlush: () => marker?.ownsFlush() ?? false,
    unmarkOpen: release,
    close() {
      release();
      return writer.close();
    },
  };
}

/** Says which file a journal is of, for people who look into the folder and for when the file is moved. */
export function writePathNote(folder: string, real: string): void {
  try {
    makeFolder(folder);
    writeFileSync(join(folder, 'file.txt'), `${real}\n`, { flag: 'wx', mode: 0o600 });
  } catch {
    // The note exists already, or the append that follows returns the failure.
  }
}

/** The real path of a file, which is put back where its replacement was interrupted. */
function realPathOf(path: string): string {
  try {
    return realPath(path);
  } catch (error) {
    if (toFailure(error).code !== 'ENOENT' || !restoreFile(path)) throw error;
    return realPath(path);
  }
}
