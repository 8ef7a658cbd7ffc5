import { commonAffixes } from '../../text/commonAffixes.ts';
import type { EntryCollection } from '../fileKind.ts';
import { linesOf } from '../../text/lines.ts';
import { hasLoneReturn, ChunkSplitter, type ChunkRange } from './splitIntoChunks.ts';

/** A text that was cut into pieces: each ends where the next begins. */
export interface ChunkLayout {
  readonly text: string;
  readonly chunks: readonly Pick<ChunkRange, 'section'>[];
  readonly starts: readonly number[];
  /** How many of the pieces are stray lines. */
  readonly strays: number;
}

/**
 * How the pieces of a text differ from those of the previous text. All other pieces are kept; those after the change
 * move by `shift`.
 */
export interface Resplit {
  /** The previous pieces from this index up to `to` (exclusive) are replaced by `pieces`. */
  readonly from: number;
  readonly to: number;
  readonly pieces: readonly ChunkRange[];
  /** By how many characters the pieces from `to` on have moved. */
  readonly shift: number;
}

/**
 * Cuts an edited text into pieces again. Only the pieces around the edit are looked at, and one piece more before it,
 * since a piece's end depends on what follows it. Undefined where the result could differ from cutting the whole text
 * (see `splitIntoChunks`), such as where there are stray lines, before or after the edit: whether a line is stray
 * depends on text far from it.
 *
 * @param base the column of the outermost keys, the same as before
 */
export function resplit(
  text: string,
  sections: readonly EntryCollection[],
  before: ChunkLayout,
  base = 0,
): Resplit | undefined {
  const { chunks, starts, strays } = before;
  if (hasLoneReturn(text) || strays > 0) return undefined;
  const { same, sameEnd } = commonAffixes(before.text, text);
  const shift = text.length - before.text.length;
  const from = lowerBound(starts, same) - 2;
  // The beginning of a file affects more than its first piece.
  if (from < 1) return undefined;
  const start = starts[from]!;
  const section = chunks[from]!.section;
  const splitter = new ChunkSplitter(text, sections, base);
  if (section) splitter.resume(section, indentAt(text, start));

  let to = from + 1;
  for (const line of linesOf(text, start)) {
    while (to < starts.length && starts[to]! + shift < line.start) to++;
    const here = line.start >= text.length - sameEnd && to < starts.length ? starts[to] : undefined;
    if (here === line.start - shift && splitter.continuesSection(chunks[to]!.section, line.indent)) break;
    if (!splitter.addLine(line)) return undefined;
    if (line.nextStart === text.length) to = starts.length;
  }
  const { ranges: pieces } = splitter;
  return pieces.some(({ stray }) => stray) ? undefined : { from, to, pieces, shift };
}

/** Index of the first of the ascending offsets, from the second on, that is not below `offset`. */
function lowerBound(starts: readonly number[], offset: number): number {
  let low = 1;
  let high = starts.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (starts[middle]! < offset) low = middle + 1;
    else high = middle;
  }
  return low;
}

function indentAt(text: string, start: number): number {
  let at = start;
  while (text[at] === ' ') at++;
  return at - start;
}
