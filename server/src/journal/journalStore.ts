import { readdirSync, readFileSync, renameSync, statSync, unlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { toFailure } from './failure.ts';
import { decodeLines, encodeLine, type JournalLine } from './journalLines.ts';
import type { JournalState, WriterLines } from './journalState.ts';
import { openFileSuffix } from './journalWriter.ts';

/** A journal as it lies on the disk. */
export interface StoredJournal {
  readonly writers: readonly WriterLines[];
  /** Lines left torn by a full disk or a power cut: they were never acknowledged. */
  readonly torn: number;
  readonly files: readonly StoredFile[];
}

interface StoredFile {
  readonly name: string;
  readonly lines: readonly JournalLine[];
}

/** Name of the writer of seals and settlements; its file is written under the lock only. */
export const flushWriter = 'folds';
const flushFile = flushWriter + openFileSuffix;

const fileNamePattern = /^(.+?)\.(open|\d+)\.jsonl$/;

/** Reads a journal; one that does not exist is empty. Throws what the system says where it cannot be read. */
export function readJournal(folder: string): StoredJournal {
  for (let attempt = 0; ; attempt++) {
    const names = journalFileNames(folder);
    const texts = names.map((name) => readIfPresent(join(folder, name)));
    // Files may have been put aside meanwhile: then they are read again, but not for ever.
    if (attempt < 8 && names.join() !== journalFileNames(folder).join()) continue;
    let torn = 0;
    const files = names.map((name, at): StoredFile => {
      const decoded = decodeLines(texts[at]!);
      torn += decoded.torn;
      return { name, lines: decoded.lines };
    });
    const byWriter = new Map<string, JournalLine[]>();
    for (const { name, lines } of files) {
      const writer = fileNamePattern.exec(name)![1]!;
      byWriter.set(writer, [...(byWriter.get(writer) ?? []), ...lines]);
    }
    return { writers: [...byWriter.values()], torn, files };
  }
}

/** Names of the files with lines, each writer's in the order they were written. */
function journalFileNames(folder: string): string[] {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch (error) {
    if (toFailure(error).code === 'ENOENT') return [];
    throw error;
  }
  const parts = names.flatMap((name) => {
    const match = fileNamePattern.exec(name);
    return match ? [{ name, writer: match[1]!, at: match[2] === 'open' ? Infinity : Number(match[2]) }] : [];
  });
  parts.sort((a, b) => (a.writer < b.writer ? -1 : a.writer > b.writer ? 1 : a.at - b.at));
  return parts.map(({ name }) => name);
}

function readIfPresent(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    if (toFailure(error).code === 'ENOENT') return '';
    throw error;
  }
}

/**
 * Puts the files that are written to aside, so that what is in them can be cleared once all of it is settled. Call it
 * only under the lock.
 */
export function rotateFiles(folder: string): void {
  const names = journalFileNames(folder);
  for (const name of names) {
    if (name === flushFile || !name.endsWith(openFileSuffix)) continue;
    const writer = name.slice(0, -openFileSuffix.length);
    const numbers = names.flatMap((other) => {
      const match = fileNamePattern.exec(other);
      return match?.[1] === writer && match[2] !== 'open' ? [Number(match[2])] : [];
    });
    renameSync(join(folder, name), join(folder, `${writer}.${Math.max(0, ...numbers) + 1}.jsonl`));
  }
}

/** Clears the files put aside of which every line is settled. Call it only under the lock. */
export function removeSettledFiles(folder: string, stored: StoredJournal, state: JournalState): void {
  for (const { name, lines } of stored.files) {
    if (name.endsWith(openFileSuffix) || !lines.every((line) => state.isSettled(line))) continue;
    unlinkSync(join(folder, name));
  }
}

/** How long the attempts of a settled entry are remembered, ms: no writer is suspended for longer. */
const retentionTime = 7 * 24 * 3_600_000;
/** Characters from which the file of seals is pruned. */
const pruneThreshold = 262_144;

/** Forgets seals that were settled long ago. Call it only under the lock. */
export function pruneFlushFile(
  folder: string,
  stored: StoredJournal,
  state: JournalState,
  now: number,
): void {
  const path = join(folder, flushFile);
  const { size } = statSync(path, { throwIfNoEntry: false }) ?? { size: 0 };
  if (size < pruneThreshold) return;
  const lines = stored.files.find(({ name }) => name === flushFile)?.lines ?? [];
  const kept = lines.filter((line) => now - line.at < retentionTime || !state.isSettled(line));
  writeFileSync(`${path}.new`, kept.map(encodeLine).join(''), { mode: 0o600, flush: true });
  renameSync(`${path}.new`, path);
}
