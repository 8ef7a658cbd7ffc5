import { randomInt } from 'node:crypto';
import {
  appendFileSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { syncFile, syncFolder } from '../disk/sync.ts';
import { toFailure } from './failure.ts';
import { decodeLines, encodeLine, type JournalLine } from './journalLines.ts';
import type { JournalState, WriterLines } from './journalState.ts';
import { openFileSuffix } from './journalWriter.ts';

/** A journal as it lies on the disk. */
export interface StoredJournal {
  readonly writers: readonly WriterLines[];
  /** What is no line of a journal, such as a line torn by a full disk or a power cut: never acknowledged. */
  readonly torn: readonly string[];
  readonly files: readonly StoredFile[];
}

interface StoredFile {
  readonly name: string;
  readonly lines: readonly JournalLine[];
  readonly torn: readonly string[];
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
    const files = names.map((name, at): StoredFile => ({ name, ...decodeLines(texts[at]!) }));
    const byWriter = new Map<string, JournalLine[]>();
    for (const { name, lines } of files) {
      const writer = fileNamePattern.exec(name)![1]!;
      byWriter.set(writer, [...(byWriter.get(writer) ?? []), ...lines]);
    }
    return { writers: [...byWriter.values()], torn: files.flatMap(({ torn }) => torn), files };
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
    // A number that no other process chooses at the same time: a rename onto its file would destroy that.
    const next = (Math.floor(Math.max(0, ...numbers) / numberStep) + 1) * numberStep + randomInt(numberStep);
    renameSync(join(folder, name), join(folder, `${writer}.${next}.jsonl`));
  }
}

const numberStep = 1_000_000;

/**
 * Clears the files put aside of which every line is settled. What is no line of a journal is set aside first. Call it
 * only under the lock.
 *
 * @returns how much was set aside
 */
export function removeSettledFiles(folder: string, stored: StoredJournal, state: JournalState): number {
  let count = 0;
  for (const { name, lines, torn } of stored.files) {
    if (name.endsWith(openFileSuffix) || !lines.every((line) => state.isSettled(line))) continue;
    setAside(folder, torn);
    count += torn.length;
    unlinkSync(join(folder, name));
  }
  return count;
}

/** The file in the folder of a journal that keeps what was found there and is no line of a journal. */
export const setAsideFile = 'set-aside.txt';

/** Keeps texts where no program reads them and a person can. */
export function setAside(folder: string, texts: readonly string[]): void {
  if (texts.length === 0) return;
  const path = join(folder, setAsideFile);
  appendFileSync(path, texts.map((text) => `${text}\n`).join(''), { mode: 0o600 });
  syncFile(path);
}

/** How long the attempts of a settled entry are remembered, ms: no writer is suspended for longer. */
const retentionTime = 7 * 24 * 3_600_000;
/** Characters from which the file of seals is pruned. */
const pruneThreshold = 262_144;

/**
 * Forgets seals that were settled long ago. Call it only under the lock.
 *
 * @param check throws where the lock was lost
 */
export function pruneFlushFile(
  folder: string,
  stored: StoredJournal,
  state: JournalState,
  now: number,
  check: () => void,
): void {
  const path = join(folder, flushFile);
  const { size } = statSync(path, { throwIfNoEntry: false }) ?? { size: 0 };
  if (size < pruneThreshold) return;
  const { lines, torn } = stored.files.find(({ name }) => name === flushFile) ?? { lines: [], torn: [] };
  const kept = lines.filter((line) => now - line.at < retentionTime || !state.isSettled(line));
  setAside(folder, torn);
  writeFileSync(`${path}.new`, kept.map(encodeLine).join(''), { mode: 0o600, flush: true });
  check();
  renameSync(`${path}.new`, path);
  syncFolder(folder);
}
