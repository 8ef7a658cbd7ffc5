import { appendFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { syncFile } from '../disk/sync.ts';
import { findArchived, readArchive } from './archive.ts';
import { toFailure } from './failure.ts';
import { flushWriter, listFiles, writerOf } from './journalFiles.ts';
import { decodeLines, type FlushLine, type JournalLine } from './journalLines.ts';
import type { JournalExtent, WriterLines } from './journalState.ts';

/** A journal as it lies on the disk. */
export interface StoredJournal {
  readonly writers: readonly WriterLines[];
  /** What is no line of a journal, such as a line torn by a full disk or a power cut: never acknowledged. */
  readonly torn: readonly string[];
  readonly files: readonly StoredFile[];
  /** Lines from the archive. */
  readonly archived: readonly FlushLine[];
  /** Names of the archive's files. */
  readonly archive: readonly string[];
  /** Whether all of the archive was read. */
  readonly whole: boolean;
}

/** A file with lines. */
export interface StoredFile {
  readonly name: string;
  readonly lines: readonly JournalLine[];
  readonly torn: readonly string[];
}

/** Reads a journal; one that does not exist is empty. Throws what the system says where it cannot be read. */
export function readJournal(folder: string, extent: JournalExtent = 'needed'): StoredJournal {
  for (let attempt = 0; ; attempt++) {
    const names = listFiles(folder);
    const isLast = attempt >= 8;
    const files = names.lines.map((name): StoredFile => ({
      name,
      ...decodeLines(readIfPresent(join(folder, name))),
    }));
    const lines = files.flatMap((file) => file.lines);
    const wanted = extent === 'all' ? 'all' : concernedEntries(lines);
    const read = archivedLines(folder, names.archive, wanted, isLast);
    // Files may have been put aside meanwhile: then they are read again, but not for ever.
    if (!read || (!isLast && JSON.stringify(names) !== JSON.stringify(listFiles(folder)))) continue;
    const byWriter = new Map<string, JournalLine[]>();
    for (const { name, lines } of files) {
      const writer = writerOf(name);
      const known = byWriter.get(writer);
      if (known) for (const line of lines) known.push(line);
      else byWriter.set(writer, [...lines]);
    }
    // What was archived was written before the rest.
    if (read.lines.length > 0)
      byWriter.set(flushWriter, [...read.lines, ...(byWriter.get(flushWriter) ?? [])]);
    return {
      writers: [...byWriter.values()],
      torn: [...files.flatMap(({ torn }) => torn), ...read.torn],
      files,
      archived: read.lines,
      archive: names.archive,
      whole: wanted === 'all' || names.archive.length === 0,
    };
  }
}

/**
 * The entries that lines are about and do not settle themselves: whether they were archived matters. `all` where a line
 * takes back what no other line names.
 */
function concernedEntries(lines: readonly JournalLine[]): ReadonlySet<string> | 'all' {
  const known = new Set<string>();
  for (const line of lines) {
    known.add(line.id);
    if ('block' in line) known.add(line.block);
    if (line.kind === 'seal') for (const id of [...line.attempts, ...line.undone]) known.add(id);
  }
  const settled = new Set<string>();
  for (const line of lines)
    if ((line.kind === 'saved' || line.kind === 'dropped') && line.seal !== undefined && known.has(line.seal))
      settled.add(line.block);
  const concerned = new Set<string>();
  for (const line of lines) {
    if (line.kind === 'undo' && !known.has(line.of)) return 'all';
    const entry = line.kind === 'entry' ? line.id : 'block' in line ? line.block : undefined;
    if (entry !== undefined && !settled.has(entry)) concerned.add(entry);
  }
  return concerned;
}

/** Lines of the archive; undefined where a file of it was replaced meanwhile. */
function archivedLines(
  folder: string,
  names: readonly string[],
  wanted: ReadonlySet<string> | 'all',
  isLast: boolean,
): { readonly lines: readonly FlushLine[]; readonly torn: readonly string[] } | undefined {
  try {
    const { entries, torn } =
      wanted === 'all'
        ? readArchive(folder, names)
        : { entries: findArchived(folder, names, wanted), torn: [] };
    return { lines: entries.flatMap(({ lines }) => lines), torn };
  } catch (error) {
    if (!isLast && toFailure(error).code === 'ENOENT') return undefined;
    throw error;
  }
}

function readIfPresent(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    if (toFailure(error).code === 'ENOENT') return '';
    throw error;
  }
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
