import type { SealLine } from './journalLines.ts';
import type { JournalState } from './journalState.ts';
import type { UnsealedEntry } from './loggedEntry.ts';

/**
 * The seals to write before the file is written: one for each finished entry that is not sealed yet, and one for each
 * sealed entry of which something was taken back since.
 *
 * @param now ms since 1970
 * @param newId gives the id of a line
 * @param all whether blocks that are not finished are sealed, too
 */
export function newSeals(state: JournalState, now: number, newId: () => string, all = false): SealLine[] {
  const fresh = state.open.filter(({ done }) => done || all).map((block) => sealOf(block, now, newId()));
  const again = [...state.sealed.values()].flatMap(({ seal, state: at }): SealLine[] => {
    const takenBack = [...seal.attempts, seal.block].filter((id) => state.undoneAfterSeal.has(id));
    if (takenBack.length === 0) return [];
    return [shortenedSeal(seal, new Set(takenBack), at === 'saved', now, newId())];
  });
  return [...fresh, ...again];
}

function sealOf(block: UnsealedEntry, at: number, id: string): SealLine {
  return {
    kind: 'seal',
    id,
    at,
    block: block.id,
    local: block.local,
    entry: block.entry,
    attempts: block.attempts,
    undone: block.undone,
    ...(block.after !== undefined && { after: block.after }),
    ...(block.batch !== undefined && { batch: block.batch }),
    last: block.last,
    ...(block.gone && { gone: true as const }),
  };
}

function shortenedSeal(
  seal: SealLine,
  takenBack: ReadonlySet<string>,
  saved: boolean,
  at: number,
  id: string,
): SealLine {
  const tape = tapeOf(seal);
  const keep = seal.attempts.map((attempt) => !takenBack.has(attempt));
  const attempts = seal.attempts.filter((_, index) => keep[index]);
  const gone = takenBack.has(seal.block) || attempts.length === 0;
  return {
    ...seal,
    id,
    at,
    attempts,
    undone: [...seal.undone, ...takenBack],
    entry: { ...seal.entry, ...(tape !== '' && { tape: [...tape].filter((_, i) => keep[i]).join('') }) },
    from: [...(seal.from ?? []), tape],
    ...((seal.known || saved) && { known: true as const }),
    ...(gone && { gone: true as const }),
  };
}

/** The tape of a sealed entry; empty where it has none. */
export function tapeOf({ entry }: SealLine): string {
  return typeof entry.tape === 'string' ? entry.tape : '';
}
