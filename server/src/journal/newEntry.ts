import type { Clock } from './clock.ts';
import type { EntryLine, LogEntry } from './journalLines.ts';

/** An id for an entry: `b-7f3a91c2` for a block, `r-7f3a91c2` for a run. */
export function newEntryId(kind: 'block' | 'run', newId: () => string): string {
  return `${kind === 'block' ? 'b' : 'r'}-${newId().slice(0, 12)}`;
}

/**
 * The line of a block or run that is logged whole.
 *
 * @param after id of what was logged last, `''` for nothing
 * @param batch of an entry that came with an import
 */
export function newEntryLine(
  { clock }: { readonly clock: Clock },
  id: string,
  local: string,
  entry: LogEntry,
  after: string,
  batch?: string,
): EntryLine {
  return { kind: 'entry', id, at: clock.now(), local, entry, after, ...(batch !== undefined && { batch }) };
}
