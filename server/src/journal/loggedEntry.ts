import type { LogEntry } from './journalLines.ts';
import type { SealLine } from './journalLines.ts';

/** A future entry of the file, and the lines that it consists of. */
export interface UnsealedEntry {
  /** Id of the entry in the file. */
  readonly id: string;
  /** When it began, by the runner's own clock. */
  readonly local: string;
  readonly technique: string | undefined;
  /** Ids of the attempts that count, in their order. */
  readonly attempts: readonly string[];
  /** Ids of the attempts that were taken back. */
  readonly undone: readonly string[];
  /** Whether the entry as a whole was taken back, or nothing is left of it. */
  readonly gone: boolean;
  /** How many of the attempts that count landed. */
  readonly landed: number;
  /** Whether it is finished: it was ended, another block began, or nothing was logged for it for long. */
  readonly done: boolean;
  /** When the last line of it was written, ms since 1970. */
  readonly last: number;
  readonly entry: LogEntry;
  /** What was logged before an entry logged whole, and the import that it came with. */
  readonly after?: string;
  readonly batch?: string;
}

/** An entry that a flush has sealed. */
export interface SealedEntry {
  readonly seal: SealLine;
  readonly state: 'sealed' | 'saved' | 'dropped';
}
