import { unlinkSync } from 'node:fs';
import { join } from 'node:path';
import { addToArchive } from './archive.ts';
import { flushWriter, isOpenFile, nextName, rotateFiles, writeNew, writerOf } from './journalFiles.ts';
import { encodeLine, isFlushLine, type FlushLine, type JournalLine } from './journalLines.ts';
import type { JournalState } from './journalState.ts';
import { setAside, type StoredFile, type StoredJournal } from './journalStore.ts';
import type { SealedEntry } from './loggedEntry.ts';

/** Bytes of seals and settlements from which the settled ones are archived. */
const archiveThreshold = 32_768;
/** So many settled entries are not archived, because an entry that is logged names what was logged before it. */
const keptEntries = 20;
/** Characters of settled lines that are worth writing the rest of a file anew. */
const worthRewriting = 16_384;

/** What a compaction works on. Call it only under the lock. */
export interface Compaction {
  readonly folder: string;
  /** The journal and its state, read after the files were put aside. */
  readonly read: () => { readonly stored: StoredJournal; readonly state: JournalState };
  /** Ms since 1970. */
  readonly now: number;
  /** Throws where the lock was lost. */
  readonly check: () => void;
}

/**
 * Clears a journal of what is settled, and archives its seals, so that reading it takes the same time however much was
 * logged. What is no line of a journal is set aside. Each file is written under a name of its own before those are
 * removed whose lines it holds: wherever this ends, a line is found, perhaps twice, and counts once.
 *
 * @returns how much was set aside
 */
export function compactJournal({ folder, read, now, check }: Compaction): number {
  check();
  rotateFiles(folder, archiveThreshold);
  const { stored, state } = read();
  const left: JournalLine[] = [];
  let count = 0;
  for (const [writer, files] of filesByWriter(stored)) {
    if (writer === flushWriter) continue;
    const aside = files.filter(({ name }) => !isOpenFile(name));
    const kept = clearSettled(folder, stored, aside, (line) => state.isSettled(line), check);
    count += kept.torn;
    left.push(...kept.lines, ...files.flatMap(({ name, lines }) => (isOpenFile(name) ? lines : [])));
  }
  return count + archiveSettled(folder, stored, state, left, now, check);
}

/** Moves settled entries that no line is about into the archive, the latest excepted. Returns how much was set aside. */
function archiveSettled(
  folder: string,
  stored: StoredJournal,
  state: JournalState,
  lines: readonly JournalLine[],
  now: number,
  check: () => void,
): number {
  const aside = (filesByWriter(stored).get(flushWriter) ?? []).filter(({ name }) => !isOpenFile(name));
  if (aside.length === 0) return 0;
  const entries = archivable(state, lines);
  const isArchived = (line: JournalLine): line is FlushLine => isFlushLine(line) && entries.has(line.block);
  const moved = aside.flatMap((file) => file.lines).filter(isArchived);
  if (lengthOf(moved) < worthRewriting) return 0;
  const torn = addToArchive(folder, stored.archive, moved, now, check);
  setAside(folder, torn);
  return torn.length + clearSettled(folder, stored, aside, isArchived, check).torn;
}

/**
 * Clears the files of one writer of settled lines, where all lines are settled or much is to be cleared.
 *
 * @returns the lines that are still there, and how much was set aside
 */
function clearSettled(
  folder: string,
  stored: StoredJournal,
  files: readonly StoredFile[],
  isSettled: (line: JournalLine) => boolean,
  check: () => void,
): { readonly lines: readonly JournalLine[]; readonly torn: number } {
  const left = files.filter(({ lines }) => !lines.every(isSettled));
  const lines = left.flatMap((file) => file.lines);
  const kept = lines.filter((line) => !isSettled(line));
  const rewrite = lengthOf(lines) - lengthOf(kept) >= worthRewriting;
  const cleared = rewrite ? files : files.filter((file) => !left.includes(file));
  const torn = cleared.flatMap((file) => file.torn);
  setAside(folder, torn);
  if (rewrite) {
    const names = stored.files.map(({ name }) => name);
    writeNew(folder, nextName(names, writerOf(files[0]!.name)), kept.map(encodeLine).join(''), check);
  }
  for (const { name } of cleared) unlinkSync(join(folder, name));
  return { lines: rewrite ? kept : lines, torn: torn.length };
}

/** Ids of the settled entries that can be archived. */
function archivable({ sealed, undoneAfterSeal }: JournalState, lines: readonly JournalLine[]): Set<string> {
  const mentioned = new Set(undoneAfterSeal);
  for (const line of lines) {
    mentioned.add(line.id);
    if ('block' in line) mentioned.add(line.block);
    if (line.kind === 'undo') mentioned.add(line.of);
  }
  const settled = [...sealed.values()].filter(({ state }) => state !== 'sealed').slice(0, -keptEntries);
  return new Set(
    settled.flatMap(({ seal }) =>
      [seal.block, ...seal.attempts, ...seal.undone].some((id) => mentioned.has(id)) || isOverflow(seal)
        ? []
        : [seal.block],
    ),
  );
}

/**
 * Whether an entry was made of attempts that came in after their block was sealed. They name that block and not the entry,
 * so that it could not be found in the archive by them.
 */
function isOverflow({ block, attempts, undone }: SealedEntry['seal']): boolean {
  return [...attempts, ...undone].some((id) => block === `b-${id}`);
}

function filesByWriter({ files }: StoredJournal): Map<string, StoredFile[]> {
  const byWriter = new Map<string, StoredFile[]>();
  for (const file of files) {
    const writer = writerOf(file.name);
    byWriter.set(writer, [...(byWriter.get(writer) ?? []), file]);
  }
  return byWriter;
}

function lengthOf(lines: readonly JournalLine[]): number {
  return lines.reduce((sum, line) => sum + encodeLine(line).length, 0);
}
