import type { ChunkedText } from './chunk.ts';
import type { Span } from './problem.ts';
import { keyIndexFor, type Entry, type Item, type ListTree, type MapTree, type Tree } from './tree.ts';

/**
 * A list's entry as a text of its own, blanks in place of its dash so that offsets stay the same. Its keys stand in
 * `column`.
 */
export interface EntryBody {
  readonly text: string;
  readonly column: number;
}

/** An entry without its dash; undefined where its first key does not follow the dash after blanks. */
export function entryBody(text: string): EntryBody | undefined {
  const [ahead] = /^ *- +(?=[a-z])/.exec(text) ?? [];
  return ahead === undefined
    ? undefined
    : { text: ' '.repeat(ahead.length) + text.slice(ahead.length), column: ahead.length };
}

/**
 * The tree of a list with one entry, from the parsed pieces of that entry. It is the same as if the entry had been read
 * as a whole, but comments and blanks behind a node may belong to a node around it. Undefined where that is not
 * certain: where a piece has a problem or an anchor, a key occurs twice, or a piece holds more than one key or item.
 *
 * @param dash offset of the entry's dash
 */
export function composeLongEntry(chunkedText: ChunkedText, dash: number): ListTree | undefined {
  const { chunks, starts, troubled, anchored } = chunkedText;
  if (troubled > 0 || anchored > 0) return undefined;
  const entries: Entry[] = [];
  for (let key = 0, next = 1; key < chunks.length; key = next, next++) {
    while (next < chunks.length && chunks[next]!.section) next++;
    const entry = onlyEntry(chunks[key]!.parsed.tree);
    const list = next > key + 1 ? listFrom(chunkedText, key, next) : undefined;
    if (!entry || (next > key + 1 && (!list || entry.value))) return undefined;
    entries.push({ key: entry.key, value: list ?? entry.value, shift: starts[key]! });
  }
  if (new Set(entries.map(({ key }) => key.value)).size < entries.length) return undefined;
  const { start } = placeOf(chunkedText, 0);
  const { end } = placeOf(chunkedText, chunks.length - 1);
  const map: MapTree = { type: 'map', start, end, flow: false, entries, ...keyIndexFor(entries) };
  return { type: 'list', start: dash, end, flow: false, items: [{ value: map, shift: 0 }] };
}

/**
 * The list under a key, from the pieces behind the key's up to `to` (exclusive). Offsets count from the key's piece.
 */
function listFrom(chunkedText: ChunkedText, key: number, to: number): ListTree | undefined {
  const base = chunkedText.starts[key]!;
  const items: Item[] = [];
  for (let at = key + 1; at < to; at++) {
    const { tree } = chunkedText.chunks[at]!.parsed;
    if (tree?.type !== 'list' || tree.flow || tree.items.length !== 1) return undefined;
    items.push({ value: tree.items[0]!.value, shift: chunkedText.starts[at]! - base });
  }
  const { start } = placeOf(chunkedText, key + 1, base);
  const { end } = placeOf(chunkedText, to - 1, base);
  return { type: 'list', start, end, flow: false, items };
}

/** The span of a parsed piece, counted from `base`. */
function placeOf({ chunks, starts }: ChunkedText, at: number, base = 0): Span {
  const { tree } = chunks[at]!.parsed;
  const shift = starts[at]! - base;
  return { start: tree!.start + shift, end: tree!.end + shift };
}

function onlyEntry(tree: Tree | undefined): Entry | undefined {
  return tree?.type === 'map' && !tree.flow && tree.entries.length === 1 ? tree.entries[0] : undefined;
}
