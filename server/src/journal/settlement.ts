import { fileKindOf } from '../files/fileKind.ts';
import { readSource, type Reading } from '../files/reading/reading.ts';
import { logEntryIds } from './logEntries.ts';
import type { MarkLine, SealLine } from './journalLines.ts';
import type { JournalState } from './journalState.ts';
import { planFlush, type FlushPlan, type FlushRefusal } from './planFlush.ts';

// Decides which entries of a journal are saved, dropped or still waiting, with plain data in and out. It does not
// depend on where the lines are kept: the journals on the disk add the lock, the replacement of the file and the
// waiting for the disk; those in a client's storage add nothing.

/** The entries that waited, each in one of three lists. */
export interface Settlement {
  /** The saved file holds them: the journal can be cleared of them. */
  readonly saved: readonly SealLine[];
  /** The user took them out, or they were taken back: they are never put into the file again. */
  readonly dropped: readonly SealLine[];
  /** They wait for a file that holds them. */
  readonly waiting: readonly SealLine[];
}

/** The sealed entries that are neither saved nor dropped yet, in the order of their sealing. */
export function pendingSeals({ sealed }: JournalState): SealLine[] {
  return [...sealed.values()].flatMap(({ seal, state }) => (state === 'sealed' ? [seal] : []));
}

/**
 * Settles the waiting entries once an editor has saved a file.
 *
 * @param savedIds ids of the entries in the saved text
 * @param appliedIds ids of the entries that this editor put into the text since it opened the file: one that the saved
 * text does not hold was taken out by the user
 */
export function settleSaved(
  state: JournalState,
  savedIds: ReadonlySet<string>,
  appliedIds: ReadonlySet<string>,
): Settlement {
  return partition(pendingSeals(state), ({ block, gone, known }) => {
    // An entry that was taken back and is still in the saved text waits for a text without it.
    if (savedIds.has(block)) return gone ? 'waiting' : 'saved';
    return gone || known || appliedIds.has(block) ? 'dropped' : 'waiting';
  });
}

/**
 * Settles the entries of a plan once the file has the plan's text: none of them waits any longer, but those that cannot
 * be written into it.
 *
 * @param seals the entries that the plan was made for
 */
export function settlePlanned(seals: readonly SealLine[], plan: FlushPlan): Settlement {
  const lost = new Set(plan.dropped);
  const unfit = new Set(plan.unfit);
  return partition(seals, ({ block, gone }) => {
    if (unfit.has(block)) return 'waiting';
    return gone || lost.has(block) ? 'dropped' : 'saved';
  });
}

/** The lines that record a settlement in the journal. */
export function settlementMarks({ saved, dropped }: Settlement, at: number, newId: () => string): MarkLine[] {
  const mark =
    (kind: MarkLine['kind']) =>
    ({ block, id }: SealLine): MarkLine => ({ kind, id: newId(), at, block, seal: id });
  return [...saved.map(mark('saved')), ...dropped.map(mark('dropped'))];
}

/**
 * The edits that put what waits into the text of a file that an editor has open, without what the user took out of it.
 *
 * @param appliedIds ids of the entries that the text has held since it was opened
 * @param dayStarts minutes after midnight at which the runner's day begins
 */
export function planForEditor(
  state: JournalState,
  reading: Reading,
  appliedIds: ReadonlySet<string>,
  dayStarts: number,
): FlushPlan | FlushRefusal {
  const present = logEntryIds(reading);
  const wanted = pendingSeals(state).filter(({ block }) => present.has(block) || !appliedIds.has(block));
  return planFlush(reading, wanted, dayStarts);
}

/** The kind of log that a file of this name is. */
export function logKindOf(name: string): 'practice' | 'runs' {
  return fileKindOf(name) === 'runs' ? 'runs' : 'practice';
}

/** A text read as the log that a file of this name is. */
export function readLogText(name: string, text: string): Reading {
  return readSource(logKindOf(name), text);
}

function partition(seals: readonly SealLine[], outcome: (seal: SealLine) => keyof Settlement): Settlement {
  const result: Record<keyof Settlement, SealLine[]> = { saved: [], dropped: [], waiting: [] };
  for (const seal of seals) result[outcome(seal)].push(seal);
  return result;
}
