import { basename, join } from 'node:path';
import { tidyLeftovers } from '../disk/leftovers.ts';
import { keptNotices } from '../disk/replaceText.ts';
import { syncFile } from '../disk/sync.ts';
import { formatCount } from '../text/format.ts';
import { isFailure, type Failure } from './failure.ts';
import type { FlushPlan, FlushRefusal } from './planFlush.ts';
import type { Journal } from './journal.ts';
import { isFlushLine, type MarkLine, type SealLine } from './journalLines.ts';
import { withLock, type CheckLock } from './lock.ts';
import { buildJournalState, type JournalState } from './journalState.ts';
import { newSeals } from './seal.ts';
import { compactJournal } from './compactJournal.ts';
import { flushWriter } from './journalFiles.ts';
import { readJournal, setAsideFile } from './journalStore.ts';
import { logEntryIds } from './logEntries.ts';
import { JournalWriter } from './journalWriter.ts';
import {
  pendingSeals,
  planForEditor,
  readLogText,
  settlementMarks,
  settlePlanned,
  settleSaved,
  type Settlement,
} from './settlement.ts';
import { writeEntries } from './writeEntries.ts';

export interface FlushOptions {
  /** Minutes after midnight at which the runner's day begins. */
  readonly dayStarts: number;
  /** Whether blocks that are not finished are flushed, too. */
  readonly all?: boolean;
  /** How long to wait for another program that holds the lock, ms. Left out: 2 s. */
  readonly patience?: number;
  /** Ids of entries that the text has held: one that is missing there now was taken out by the user, and stays out. */
  readonly leaveOut?: ReadonlySet<string>;
  /** Told in sentences what a person has to see to. */
  readonly tell?: (sentence: string) => void;
}

/** What a flush put into the file. */
export interface FlushResult {
  /** What was added, as it is written in the file. */
  readonly entries: readonly SealLine[];
  /** Undefined where nothing waited. */
  readonly plan: FlushPlan | undefined;
}

/**
 * Puts what a journal holds into its file on the disk: under a lock, into the text that the file has now, with the file
 * replaced whole or not at all. Entries that the file has already are passed over, and the journal is cleared of what
 * the file holds. Does nothing where an editor has the file open.
 *
 * @returns undefined where it is for an editor to do, a failure where the file cannot be written: nothing is lost then
 */
export async function flushToDisk(
  journal: Journal,
  { dayStarts, all, patience = 2_000, tell = () => undefined }: FlushOptions,
): Promise<FlushResult | Failure | undefined> {
  return withLock(journal.folder, patience, async (check) => {
    const name = basename(journal.path);
    for (const kept of tidyLeftovers(journal.path)) keptNotices(name, kept).forEach(tell);
    const seals = pendingSeals(sealFinished(journal, check, all));
    if (seals.length === 0) {
      record(journal, nothing, check, tell);
      return { entries: [], plan: undefined };
    }
    // An editor opened the file meanwhile: it puts the entries in.
    if (journal.isOpenElsewhere()) return undefined;
    const plan = await writeEntries(journal, seals, { dayStarts, check, tell });
    if (isFailure(plan)) return plan;
    const unfit = plan.unfit.length;
    if (unfit > 0)
      tell(
        `${formatCount(unfit, 'entry', 'entries')} cannot be written into ${name} so that it can be read again: the rest went in. What is left is in ${journal.folder}.`,
      );
    // Only now does the file hold them.
    record(journal, settlePlanned(seals, plan), check, tell);
    const added = new Set(plan.added);
    return { plan, entries: seals.filter(({ block }) => added.has(block)) };
  });
}

/**
 * The edits that put what a journal holds into a text that an editor has open. Sealed before they are returned; the
 * journal keeps everything until {@link confirmSaved} finds it in the saved text.
 *
 * @returns a plan whose `edits` are empty where nothing is to be done
 */
export async function flushToEditor(
  journal: Journal,
  text: string,
  { dayStarts, all, patience = 2_000, leaveOut = new Set() }: FlushOptions,
): Promise<FlushPlan | FlushRefusal | Failure> {
  return withLock(journal.folder, patience, (check) =>
    planForEditor(sealFinished(journal, check, all), readLogText(journal.path, text), leaveOut, dayStarts),
  );
}

/**
 * Tells a journal what an editor saved. Entries in it are cleared from the journal. Those that this editor put into
 * the text and that are not in what was saved were taken out by the user: they are dropped and never put in again.
 *
 * @param applied ids of the entries that this editor put in since it opened the file
 */
export async function confirmSaved(
  journal: Journal,
  savedText: string,
  applied: ReadonlySet<string>,
): Promise<{ readonly saved: readonly string[]; readonly dropped: readonly string[] } | Failure> {
  return withLock(journal.folder, 2_000, (check) => {
    const ids = logEntryIds(readLogText(journal.path, savedText));
    const settlement = settleSaved(readState(journal).state, ids, applied);
    // The editor may not have waited for the disk.
    if (settlement.saved.length > 0) syncFile(journal.path);
    record(journal, settlement, check);
    const idsOf = (seals: readonly SealLine[]) => seals.map(({ block }) => block);
    return { saved: idsOf(settlement.saved), dropped: idsOf(settlement.dropped) };
  });
}

const nothing: Settlement = { saved: [], dropped: [], waiting: [] };

function readState(journal: Journal): { state: JournalState; stored: ReturnType<typeof readJournal> } {
  const stored = readJournal(journal.folder);
  return { stored, state: buildJournalState(stored.writers, journal.clock.now()) };
}

/** Seals the finished entries. Returns the journal's state after that. */
function sealFinished(journal: Journal, check: CheckLock, all = false): JournalState {
  const fresh = newSeals(readState(journal).state, journal.clock.now(), journal.newId, all);
  check();
  appendFlushLines(journal, fresh);
  return readState(journal).state;
}

/** Records a settlement, and clears the journal of what is settled. */
function record(
  journal: Journal,
  settlement: Settlement,
  check: CheckLock,
  tell: (sentence: string) => void = () => undefined,
): void {
  const { folder, clock } = journal;
  check();
  appendFlushLines(journal, settlementMarks(settlement, clock.now(), journal.newId));
  const before = readState(journal);
  const worthIt = before.stored.writers
    .flat()
    .some((line) => !isFlushLine(line) && before.state.isSettled(line));
  if (!worthIt) return;
  const aside = compactJournal({ folder, check, now: clock.now(), read: () => readState(journal) });
  if (aside > 0)
    tell(
      `Set aside from the journal: ${formatCount(aside, 'line')} that could not be read, now in ${join(folder, setAsideFile)}.`,
    );
}

/** Writes to the file of seals and settlements, and to the disk at once. Throws what the system says. */
function appendFlushLines(journal: Journal, lines: readonly (SealLine | MarkLine)[]): void {
  if (lines.length === 0) return;
  const writer = new JournalWriter(journal.folder, flushWriter);
  const failure = writer.append(lines) ?? writer.sync();
  writer.close();
  if (failure) throw Object.assign(new Error(failure.reason), { code: failure.code });
}
