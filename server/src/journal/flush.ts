import { readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { replaceFile } from './replaceFile.ts';
import { fileKindOf } from '../files/fileKind.ts';
import { readSource, type Reading } from '../files/reading/reading.ts';
import type { Failure } from './failure.ts';
import { planFlush, type FlushPlan, type FlushRefusal } from './planFlush.ts';
import type { Journal } from './journal.ts';
import type { MarkLine, SealLine } from './journalLines.ts';
import { withLock } from './lock.ts';
import { buildJournalState, type JournalState } from './journalState.ts';
import { newSeals } from './seal.ts';
import { removeSettledFiles, flushWriter, pruneFlushFile, rotateFiles, readJournal } from './journalStore.ts';
import { logEntryIds } from './logEntries.ts';
import { JournalWriter } from './journalWriter.ts';

export interface FlushOptions {
  /** Minutes after midnight at which the runner's day begins. */
  readonly dayStarts: number;
  /** Whether blocks that are not over yet are folded, too. */
  readonly all?: boolean;
  /** For how long another that folds is waited for, ms. Left out: 2 s. */
  readonly patience?: number;
  /** Ids of entries that the text has held: one that is missing there now was taken out by the user, and stays out. */
  readonly leaveOut?: ReadonlySet<string>;
}

/** What a fold did. */
export interface FlushResult {
  /** What was added, as it stands in the file. */
  readonly entries: readonly SealLine[];
  readonly plan: FlushPlan | undefined;
}

/**
 * Puts what a journal holds into its file on the disk: under a lock, into the text as it stands there now, with the
 * file replaced whole or not at all. Entries that stand there already are passed over, and the journal is cleared of
 * what the file holds. Does nothing where an editor has the file open.
 *
 * @returns undefined where an editor is to fold, a failure where the file cannot be written: nothing is lost then
 */
export async function flushToDisk(
  journal: Journal,
  options: FlushOptions,
): Promise<FlushResult | Failure | undefined> {
  const result = await flushUnderLock(journal, options, async (seals, held) => {
    // One that opened the file meanwhile folds by itself.
    if (journal.isOpenElsewhere()) return 'editor';
    const reading = readLog(journal.path);
    const plan = planFlush(reading, seals, options.dayStarts);
    if ('problem' in plan) return plan;
    if (!held()) return { code: 'ELOCKED', reason: 'another program is writing to it' };
    removeStaleTempFiles(journal.path);
    if (plan.edits.length > 0) await replaceFile(journal.path, plan.text);
    return { plan };
  });
  if ('waiting' in result) return undefined;
  return result;
}

/**
 * The edits that put what a journal holds into a text that an editor has open. Sealed before they are returned; the
 * journal keeps everything until `settle` finds it in the saved text.
 *
 * @returns a plan whose `edits` are empty where nothing is to be done
 */
export async function flushToEditor(
  journal: Journal,
  text: string,
  options: FlushOptions,
): Promise<FlushPlan | FlushRefusal | Failure> {
  return withLock(journal.folder, options.patience ?? 2_000, () => {
    const { seals } = sealFinished(journal, options.all);
    const reading = readText(journal.path, text);
    const standing = logEntryIds(reading);
    const wanted = seals.filter(({ block }) => standing.has(block) || !options.leaveOut?.has(block));
    return planFlush(reading, wanted, options.dayStarts);
  });
}

/**
 * Tells a journal what an editor saved. Entries in it are cleared from the journal. Those that this editor put into
 * the text and that are not in what was saved were taken out by the user: they are dropped and never folded again.
 *
 * @param applied ids of the entries that this editor put in since it opened the file
 */
export async function confirmSaved(
  journal: Journal,
  savedText: string,
  applied: ReadonlySet<string>,
): Promise<{ readonly saved: readonly string[]; readonly dropped: readonly string[] } | Failure> {
  return withLock(journal.folder, 2_000, () => {
    const { state } = readState(journal);
    const ids = logEntryIds(readText(journal.path, savedText));
    const seals = pendingSeals(state);
    const saved = seals.filter(({ block, gone }) => !gone && ids.has(block));
    const dropped = seals.filter(
      ({ block, gone, known }) => !ids.has(block) && (gone || known || applied.has(block)),
    );
    recordOutcome(journal, saved, dropped);
    return { saved: saved.map(({ block }) => block), dropped: dropped.map(({ block }) => block) };
  });
}

interface CompletedFlush {
  readonly plan: FlushPlan;
}

async function flushUnderLock(
  journal: Journal,
  { all, patience = 2_000 }: FlushOptions,
  work: (
    seals: readonly SealLine[],
    held: () => boolean,
  ) => Promise<CompletedFlush | FlushRefusal | Failure | 'editor'>,
): Promise<FlushResult | Failure | { waiting: true }> {
  return withLock(journal.folder, patience, async (held) => {
    const { seals } = sealFinished(journal, all);
    const done = seals.length > 0 ? await work(seals, held) : undefined;
    if (done === 'editor') return { waiting: true as const };
    if (done && 'problem' in done) return { code: '', reason: done.problem };
    if (done && 'code' in done) return done;
    if (!done) {
      recordOutcome(journal, [], []);
      return { entries: [], plan: undefined };
    }
    const { plan } = done;
    const lost = new Set(plan.dropped);
    const over = (seal: SealLine) => lost.has(seal.block) || seal.gone === true;
    recordOutcome(
      journal,
      seals.filter((seal) => !over(seal)),
      seals.filter(over),
    );
    const added = new Set(plan.added);
    return { plan, entries: seals.filter(({ block }) => added.has(block)) };
  });
}

function readState(journal: Journal): { state: JournalState; stored: ReturnType<typeof readJournal> } {
  const stored = readJournal(journal.folder);
  return { stored, state: buildJournalState(stored.writers, journal.clock.now()) };
}

function pendingSeals(state: JournalState): SealLine[] {
  return [...state.sealed.values()].flatMap(({ seal, state: at }) => (at === 'sealed' ? [seal] : []));
}

/** Seals what is over and returns all that waits to be written. */
function sealFinished(journal: Journal, all = false): { seals: readonly SealLine[] } {
  const fresh = newSeals(readState(journal).state, journal.clock.now(), journal.newId, all);
  appendFlushLines(journal, fresh);
  return { seals: pendingSeals(readState(journal).state) };
}

function recordOutcome(journal: Journal, saved: readonly SealLine[], dropped: readonly SealLine[]): void {
  const mark =
    (kind: MarkLine['kind']) =>
    ({ block }: SealLine): MarkLine => ({ kind, id: journal.newId(), at: journal.clock.now(), block });
  appendFlushLines(journal, [...saved.map(mark('saved')), ...dropped.map(mark('dropped'))]);
  const before = readState(journal);
  const worthIt = before.stored.writers
    .flat()
    .some((line) => !isFlushLine(line.kind) && before.state.isSettled(line));
  if (!worthIt) return;
  rotateFiles(journal.folder);
  const { state, stored } = readState(journal);
  removeSettledFiles(journal.folder, stored, state);
  pruneFlushFile(journal.folder, stored, state, journal.clock.now());
}

function isFlushLine(kind: string): boolean {
  return kind === 'seal' || kind === 'saved' || kind === 'dropped';
}

/** Writes to the memory of folds, and to the disk at once. Throws what the system says. */
function appendFlushLines(journal: Journal, lines: readonly (SealLine | MarkLine)[]): void {
  if (lines.length === 0) return;
  const writer = new JournalWriter(journal.folder, flushWriter);
  const failure = writer.append(lines) ?? writer.sync();
  writer.close();
  if (failure) throw Object.assign(new Error(failure.reason), { code: failure.code });
}

function readLog(path: string): Reading {
  const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(readFileSync(path));
  return readText(path, text);
}

function readText(path: string, text: string): Reading {
  return readSource(fileKindOf(path) === 'runs' ? 'runs' : 'practice', text);
}

/** A writer that was killed may leave its half-written file behind; after a minute nobody is at it. Milliseconds. */
const tempFileMaxAge = 60_000;

function removeStaleTempFiles(path: string): void {
  const folder = dirname(path);
  const prefix = `.${basename(path)}.`;
  for (const name of readdirSync(folder)) {
    if (!name.startsWith(prefix) || !/^\d+\.tmp$/.test(name.slice(prefix.length))) continue;
    const { mtimeMs } = statSync(join(folder, name), { throwIfNoEntry: false }) ?? { mtimeMs: Infinity };
    if (Date.now() - mtimeMs > tempFileMaxAge) rmSync(join(folder, name), { force: true });
  }
}
