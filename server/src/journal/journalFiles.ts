import { randomInt } from 'node:crypto';
import { readdirSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { syncFolder } from '../disk/sync.ts';
import { toFailure } from './failure.ts';
import { openFileSuffix } from './journalWriter.ts';

/** Name of the writer of seals and settlements; its files are written under the lock only. */
export const flushWriter = 'folds';

const fileNamePattern = /^(.+?)\.(open|\d+)\.jsonl$/;
const archiveNamePattern = /^settled-(\d+)\.jsonl$/;

/** Names of the files in the folder of a journal. */
export interface JournalFileNames {
  /** Files with lines, each writer's in the order they were written. */
  readonly lines: readonly string[];
  /** Files of the archive; mostly there is one. */
  readonly archive: readonly string[];
}

/** The files of a journal; none where it does not exist. Throws what the system says. */
export function listFiles(folder: string): JournalFileNames {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch (error) {
    if (toFailure(error).code === 'ENOENT') return { lines: [], archive: [] };
    throw error;
  }
  const parts = names.flatMap((name) => {
    const match = fileNamePattern.exec(name);
    return match ? [{ name, writer: match[1]!, at: match[2] === 'open' ? Infinity : Number(match[2]) }] : [];
  });
  parts.sort((a, b) => (a.writer < b.writer ? -1 : a.writer > b.writer ? 1 : a.at - b.at));
  return {
    lines: parts.map(({ name }) => name),
    archive: names.filter((name) => archiveNamePattern.test(name)).sort(),
  };
}

/** Name of the writer of a file with lines. */
export function writerOf(name: string): string {
  return fileNamePattern.exec(name)![1]!;
}

/** Whether lines are still appended to a file. */
export function isOpenFile(name: string): boolean {
  return name.endsWith(openFileSuffix);
}

const numberStep = 1_000_000;

/**
 * A name for a file of a writer that was put aside, after all others of it. No other process chooses the same at the same
 * time: a rename onto its file would destroy that.
 *
 * @param names of all files with lines
 */
export function nextName(names: readonly string[], writer: string): string {
  const numbers = names.flatMap((name) => {
    const match = fileNamePattern.exec(name);
    return match?.[1] === writer && match[2] !== 'open' ? [Number(match[2])] : [];
  });
  return `${writer}.${numberAfter(numbers)}.jsonl`;
}

/** A name for a file of the archive, after all others of it; no other process chooses the same. */
export function nextArchiveName(names: readonly string[]): string {
  return `settled-${numberAfter(names.map((name) => Number(archiveNamePattern.exec(name)?.[1] ?? 0)))}.jsonl`;
}

function numberAfter(numbers: readonly number[]): number {
  return (Math.floor(Math.max(0, ...numbers) / numberStep) + 1) * numberStep + randomInt(numberStep);
}

/**
 * Puts the files that are written to aside, so that what is in them can be cleared once it is settled. Call it only
 * under the lock.
 *
 * @param flushSize bytes from which the file of seals and settlements is put aside, too
 */
export function rotateFiles(folder: string, flushSize: number): void {
  const { lines: names } = listFiles(folder);
  for (const name of names) {
    if (!isOpenFile(name)) continue;
    const writer = writerOf(name);
    if (writer === flushWriter && statSync(join(folder, name)).size < flushSize) continue;
    renameSync(join(folder, name), join(folder, nextName(names, writer)));
  }
}

/**
 * Writes a new file under a name that no file has, whole or not at all, and on the disk once this returns. Throws what
 * the system says.
 *
 * @param check throws where the lock was lost
 */
export function writeNew(folder: string, name: string, text: string, check: () => void): void {
  const path = join(folder, name);
  writeFileSync(`${path}.new`, text, { mode: 0o600, flush: true });
  check();
  renameSync(`${path}.new`, path);
  syncFolder(folder);
}
