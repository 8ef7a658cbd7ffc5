import type { LogEntry } from './journalLines.ts';
import type { JournalState } from './journalState.ts';

/** What a journal holds that its file does not. */
export interface PendingCounts {
  /** Attempts logged one by one. */
  readonly attempts: number;
  readonly blocks: number;
  readonly runs: number;
  /** Whether one of the blocks is not finished. */
  readonly open: boolean;
}

/**
 * Counts what is in a journal and not in its file.
 *
 * @param idsInFile ids of the entries that the file has
 */
export function countPending(
  { open, sealed, undoneAfterSeal: late }: JournalState,
  idsInFile: ReadonlySet<string>,
): PendingCounts {
  const count = { attempts: 0, blocks: 0, runs: 0 };
  const add = (entry: LogEntry, attempts: number): void => {
    if (attempts > 0) count.attempts += attempts;
    else if (typeof entry.technique === 'string') count.blocks += 1;
    else count.runs += 1;
  };
  let hasOpenBlock = false;
  for (const { gone, attempts, entry, done } of open) {
    if (gone) continue;
    add(entry, attempts.length);
    hasOpenBlock ||= !done;
  }
  for (const [id, { seal, state }] of sealed)
    if (state === 'sealed' && !seal.gone && !seal.known && !late.has(id) && !idsInFile.has(id))
      add(seal.entry, seal.attempts.length);
  return { ...count, open: hasOpenBlock };
}

export function isNonePending({ attempts, blocks, runs }: PendingCounts): boolean {
  return attempts + blocks + runs === 0;
}
