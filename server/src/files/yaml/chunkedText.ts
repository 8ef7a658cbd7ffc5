import type { Chunk } from './chunk.ts';
import type { ParsedChunk } from './chunk.ts';
import type { ChunkedText } from './chunk.ts';
import type { ChunkedTextUpdate } from './chunk.ts';
import type { EntryCollection } from '../fileKind.ts';
import { entryBody, composeLongEntry } from './longEntry.ts';
import { parseYaml, type ParsedYaml } from './parseYaml.ts';
import { splitIntoChunks, type ChunkRange } from './splitIntoChunks.ts';
import { resplit } from './resplit.ts';

/**
 * Reads a text in pieces. A piece that the previous text had as well is not read again. Undefined where the text cannot
 * be read in pieces.
 *
 * @param base the column of the outermost keys, the same as in the previous text
 */
export function readChunks(
  text: string,
  sections: readonly EntryCollection[],
  before?: ChunkedText,
  base = 0,
): ChunkedTextUpdate | undefined {
  const resplitResult = before && resplit(text, sections, before, base);
  return resplitResult
    ? rereadChunks(text, before, resplitResult)
    : readAllChunks(text, sections, before, base);
}

function readAllChunks(
  text: string,
  sections: readonly EntryCollection[],
  before: ChunkedText | undefined,
  base: number,
): ChunkedTextUpdate | undefined {
  const cache = new ParsedChunkCache(before, 0, before?.chunks.length ?? 0);
  const ranges = splitIntoChunks(text, sections, base);
  if (!ranges) return undefined;
  const chunks = ranges.map((range) => readChunk(text, range, cache));
  return {
    text,
    chunks,
    starts: ranges.map(({ start }) => start),
    ...countChunks(chunks),
    changedSpan: { start: 0, end: text.length },
    sameKeys: false,
  };
}

function rereadChunks(
  text: string,
  before: ChunkedText,
  { from, to, pieces: ranges, shift }: NonNullable<ReturnType<typeof resplit>>,
): ChunkedTextUpdate {
  const cache = new ParsedChunkCache(before, from, to);
  const fresh = ranges.map((range) => readChunk(text, range, cache));
  const removed = before.chunks.slice(from, to);
  const [lost, added] = [countChunks(removed), countChunks(fresh)];
  const newStarts = ranges.map(({ start }) => start);
  const starts = before.starts.slice(0, from).concat(newStarts, before.starts.slice(to));
  for (let at = from + newStarts.length; at < starts.length; at++) starts[at]! += shift;
  return {
    text,
    chunks: before.chunks.slice(0, from).concat(fresh, before.chunks.slice(to)),
    starts,
    strays: 0,
    troubled: before.troubled - lost.troubled + added.troubled,
    anchored: before.anchored - lost.anchored + added.anchored,
    changedSpan: { start: ranges[0]!.start, end: ranges.at(-1)!.end },
    sameKeys:
      removed.length === fresh.length && removed.every((chunk, at) => keysOf(chunk) === keysOf(fresh[at]!)),
  };
}

const emptyParse: ParsedYaml = { tree: undefined, problems: [], usesAnchors: false };

function readChunk(
  text: string,
  { start, end, section, stray = false }: ChunkRange,
  cache: ParsedChunkCache,
): Chunk {
  if (stray) return { section, stray, parsed: emptyParse };
  const own = text.slice(start, end);
  let parsed = cache.get(own);
  if (!parsed) cache.set(own, (parsed = parseChunk(own, section, cache)));
  return { section, stray, parsed };
}

/** An entry with more characters than this (a few hundred lines) is itself read in pieces. */
const longEntryLength = 10_000;

function parseChunk(cut: string, section: EntryCollection | undefined, cache: ParsedChunkCache): ParsedChunk {
  const text = detachedCopy(cut);
  const body = section?.inner && text.length > longEntryLength ? entryBody(text) : undefined;
  const before = body && cache.takeLongEntry(body.column);
  const chunkedText = body && readChunks(body.text, section!.inner!, before, body.column);
  const tree = chunkedText && composeLongEntry(chunkedText, text.indexOf('-'));
  return tree ? { tree, problems: [], usesAnchors: false, chunkedText } : parseYaml(text);
}

/** A copy: a slice of a text keeps the whole text in memory, and so would every name that is read from the slice. */
function detachedCopy(text: string): string {
  return ` ${text}`.slice(1);
}

/** Parsed pieces of the previous text, to be used again. */
class ParsedChunkCache {
  private readonly texts = new Map<string, ParsedChunk>();
  private readonly longEntries: ChunkedText[] = [];

  constructor(before: ChunkedText | undefined, from: number, to: number) {
    for (let at = from; at < to; at++) {
      const { stray, parsed } = before!.chunks[at]!;
      if (stray) continue;
      this.texts.set(before!.text.slice(before!.starts[at], before!.starts[at + 1]), parsed);
      if (parsed.chunkedText) this.longEntries.push(parsed.chunkedText);
    }
  }

  /** The parsed piece with this text. */
  get(text: string): ParsedChunk | undefined {
    return this.texts.get(text);
  }

  set(text: string, parsed: ParsedChunk): void {
    this.texts.set(text, parsed);
  }

  /**
   * The pieces of a long entry of the previous text, most likely the same entry before an edit: the first one not taken
   * yet with its keys in this column.
   */
  takeLongEntry(column: number): ChunkedText | undefined {
    const at = this.longEntries.findIndex(({ text }) => text.search(/\S/) === column);
    return at < 0 ? undefined : this.longEntries.splice(at, 1)[0];
  }
}

/** How many of the pieces are stray lines, have a problem, or have anchors. */
function countChunks(chunks: readonly Chunk[]): Pick<ChunkedText, 'strays' | 'troubled' | 'anchored'> {
  return {
    strays: chunks.filter(({ stray }) => stray).length,
    troubled: chunks.filter(({ stray, parsed }) => stray || parsed.problems.length > 0).length,
    anchored: chunks.filter(({ parsed }) => parsed.usesAnchors).length,
  };
}

/** The keys that a piece adds to the file or to its section. */
function keysOf({ section, parsed: { tree } }: Chunk): string {
  const keys = tree?.type === 'map' ? tree.entries.map(({ key }) => key.value) : [];
  return JSON.stringify([section?.key, tree?.type, ...keys]);
}
