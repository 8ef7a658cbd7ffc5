import { closeSync, fstatSync, openSync, readFileSync, readSync, unlinkSync } from 'node:fs';
import { join } from 'node:path';
import { nextArchiveName, writeNew } from './journalFiles.ts';
import { decodeLines, isFlushLine, type FlushLine } from './journalLines.ts';

// Entries that stand in the log file for good leave the files that are read at each entry. They are kept here for undo,
// for rows that are imported again, and for a line that a stopped process writes late. A file of the archive is written
// once and never changed: one line an entry, sorted by the entry's id, so that one is found without reading the rest.

/** An entry that was settled. */
export interface ArchivedEntry {
  readonly block: string;
  /** Its place among all archived entries, from 1: the order in which they were sealed. */
  readonly order: number;
  /** Its seals and marks, in their order. */
  readonly lines: readonly FlushLine[];
}

/** How long a settled entry is remembered at least, ms: no writer is stopped for longer. */
const retentionTime = 7 * 24 * 3_600_000;
/** Characters of older entries that are remembered besides, for undo. */
const rememberedBesides = 262_144;
/** From so many entries on, reading the whole archive is faster than finding them one by one. */
const manyEntries = 64;
/** Bytes that are read at once where an entry is looked for. */
const probeBytes = 2_048;

/** What a whole archive holds. */
export interface Archive {
  /** In the order in which they were sealed. */
  readonly entries: readonly ArchivedEntry[];
  /** What is no line of an archive. */
  readonly torn: readonly string[];
}

/** Reads the files of an archive whole. Throws what the system says. */
export function readArchive(folder: string, names: readonly string[]): Archive {
  const byBlock = new Map<string, ArchivedEntry>();
  const torn: string[] = [];
  for (const text of names.map((name) => readFileSync(join(folder, name), 'utf8'))) {
    for (const part of text.split('\n')) {
      if (part === '') continue;
      const entry = decodeEntry(part);
      if (entry) byBlock.set(entry.block, mergeEntries(byBlock.get(entry.block), entry));
      else torn.push(part);
    }
  }
  return { entries: [...byBlock.values()].sort((a, b) => a.order - b.order), torn };
}

/** The archived ones among some entries, in the order in which they were sealed. Throws what the system says. */
export function findArchived(
  folder: string,
  names: readonly string[],
  blocks: ReadonlySet<string>,
): readonly ArchivedEntry[] {
  if (blocks.size === 0) return [];
  const whole = (name: string) =>
    readArchive(folder, [name]).entries.filter(({ block }) => blocks.has(block));
  const found = names.flatMap((name) => {
    if (blocks.size >= manyEntries) return whole(name);
    const file = openSync(join(folder, name), 'r');
    try {
      const { size } = fstatSync(file);
      return [...blocks].flatMap((block) => findEntry(file, size, block) ?? []);
    } catch (error) {
      // A damaged file is not sorted any more.
      if (error instanceof DamagedArchive) return whole(name);
      throw error;
    } finally {
      closeSync(file);
    }
  });
  return found.sort((a, b) => a.order - b.order);
}

/**
 * Adds settled entries to the archive, and forgets the oldest. Call it only under the lock.
 *
 * @param names of the archive's files, which are replaced by one
 * @param settled lines of the entries, in their order
 * @param now ms since 1970
 * @param check throws where the lock was lost
 * @returns what was no line of an archive
 */
export function addToArchive(
  folder: string,
  names: readonly string[],
  settled: readonly FlushLine[],
  now: number,
  check: () => void,
): readonly string[] {
  const { entries, torn } = readArchive(folder, names);
  const byBlock = new Map(entries.map((entry) => [entry.block, entry]));
  let order = entries.at(-1)?.order ?? 0;
  const fresh = new Map<string, FlushLine[]>();
  for (const line of settled) {
    const lines = fresh.get(line.block);
    if (lines) lines.push(line);
    else fresh.set(line.block, [line]);
  }
  for (const [block, lines] of fresh)
    byBlock.set(block, mergeEntries(byBlock.get(block), { block, order: (order += 1), lines }));
  const kept = remembered([...byBlock.values()], now).sort((a, b) => (a.block < b.block ? -1 : 1));
  const text = kept
    .map(
      (entry) => `${JSON.stringify(entry)}
`,
    )
    .join('');
  // Under a name of its own: a file of the archive is never written over, also by a process that lost the lock.
  writeNew(folder, nextArchiveName(names), text, check);
  for (const name of names) unlinkSync(join(folder, name));
  return torn;
}

/** The entries of the last days, and as many older ones as there is room for. */
function remembered(entries: readonly ArchivedEntry[], now: number): ArchivedEntry[] {
  let room = rememberedBesides;
  return [...entries]
    .sort((a, b) => b.order - a.order)
    .filter((entry) => {
      room -= JSON.stringify(entry).length;
      return room >= 0 || entry.lines.some(({ at }) => now - at < retentionTime);
    });
}

/** An entry that was archived twice, as where a process ended in between: each of its lines once. */
function mergeEntries(earlier: ArchivedEntry | undefined, later: ArchivedEntry): ArchivedEntry {
  if (!earlier) return later;
  const [first, second] = earlier.order <= later.order ? [earlier, later] : [later, earlier];
  const lines = new Map([...first.lines, ...second.lines].map((line) => [line.id, line]));
  return { ...second, lines: [...lines.values()] };
}

/** Not a line of an archive where there should be one. */
class DamagedArchive extends Error {}

/** Looks for an entry in a sorted file by halving the part that it can be in. */
function findEntry(file: number, size: number, block: string): ArchivedEntry | undefined {
  // Where its line begins is in [low, high), and a line begins at low.
  let [low, high] = [0, size];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    const line = lineFrom(file, middle, low);
    if (line.start >= high) {
      high = middle;
      continue;
    }
    const entry = decodeEntry(line.text);
    if (!entry) throw new DamagedArchive();
    if (entry.block === block) return entry;
    if (entry.block < block) low = line.end;
    else high = middle;
  }
  return undefined;
}

/** The first line that begins at a place in a file or after it. A line begins at `low`, which is not after the place. */
function lineFrom(file: number, place: number, low: number): { start: number; end: number; text: string } {
  const from = place === low ? low : place - 1;
  let bytes = Buffer.alloc(0);
  for (;;) {
    const start = place === low ? 0 : bytes.indexOf('\n') + 1;
    const end = start === 0 && place !== low ? -1 : bytes.indexOf('\n', start);
    if (end >= 0)
      return { start: from + start, end: from + end + 1, text: bytes.toString('utf8', start, end) };
    const more = Buffer.alloc(Math.max(probeBytes, bytes.length));
    const count = readSync(file, more, 0, more.length, from + bytes.length);
    // After the last line; its line feed was written with it.
    if (count === 0) return { start: Infinity, end: Infinity, text: '' };
    bytes = Buffer.concat([bytes, more.subarray(0, count)]);
  }
}

function decodeEntry(text: string): ArchivedEntry | undefined {
  try {
    const { block, order, lines } = JSON.parse(text) as Readonly<Record<string, unknown>>;
    if (typeof block !== 'string' || typeof order !== 'number' || !Array.isArray(lines)) return undefined;
    const decoded = decodeLines(lines.map((line) => JSON.stringify(line)).join('\n'));
    const flush = decoded.lines.filter(isFlushLine);
    const whole = flush.length === lines.length && flush.every((line) => line.block === block);
    return whole ? { block, order, lines: flush } : undefined;
  } catch {
    return undefined;
  }
}
