import { URI } from 'vscode-uri';
import type { Clock } from './clock.ts';
import type { Failure } from './failure.ts';
import type { FlushPlan, FlushRefusal } from './planFlush.ts';
import type { JournalLine } from './journalLines.ts';
import type { JournalExtent, JournalState } from './journalState.ts';

/** How a journal is put into a text. */
export interface EditorFlushOptions {
  /** Minutes after midnight at which the runner's day begins. */
  readonly dayStarts: number;
  /** Entries that were put into the text before: where one is missing now, the user took it out. */
  readonly applied: ReadonlySet<string>;
}

/** The journal of one log file, as an editor uses it. */
export interface LogJournal {
  readonly clock: Clock;
  newId(): string;
  /** Once it returns undefined, the lines are kept as the `durabilityNotice` of the journals promises. */
  append(...lines: readonly JournalLine[]): Promise<Failure | undefined> | Failure | undefined;
  /** All lines that are not cleared yet. */
  lines(): readonly JournalLine[] | Failure;
  /** @param extent how much of what was settled is read with the rest; what is needed for new entries where not given */
  state(extent?: JournalExtent): JournalState | Failure;
  /** A text that changes whenever lines are written. */
  revision(): string;
  /** Whether it is this editor that puts entries into the file. */
  ownsFlush(): boolean;
  /** The edits that put finished entries into a text, without those that the user took out again. */
  planFlush(text: string, into: EditorFlushOptions): Promise<FlushPlan | FlushRefusal | Failure>;
  /** Tells what was saved: the journal clears the entries that the file holds, and those that the user took out. */
  confirmSaved(savedText: string, applied: ReadonlySet<string>): Promise<void>;
  close(): void;
}

/** Where the journals of log files are. */
export interface LogJournals {
  /** The runner's clock, which all of the journals go by. */
  readonly clock: Clock;
  /** Marks the file as open in an editor until the journal is closed. */
  open(uri: string): Promise<LogJournal | Failure>;
  /** Whether anything may wait in the journal of a file. */
  mayHavePending(uri: string): Promise<boolean>;
  /** What waits for files that are no longer below a folder, moved or renamed: each in a sentence. */
  orphanNotices(folder: string): readonly string[];
  /** What is promised of a line that was written, in a sentence for the runner. */
  durabilityNotice(uri: string): string;
}

/** Journals of files on the disk in one place, of all others in another. */
export function journalsByScheme(disk: LogJournals, others: LogJournals): LogJournals {
  const of = (uri: string): LogJournals => (URI.parse(uri).scheme === 'file' ? disk : others);
  return {
    clock: disk.clock,
    open: (uri) => of(uri).open(uri),
    mayHavePending: (uri) => of(uri).mayHavePending(uri),
    orphanNotices: (folder) => of(folder).orphanNotices(folder),
    durabilityNotice: (uri) => of(uri).durabilityNotice(uri),
  };
}
