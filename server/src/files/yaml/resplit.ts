import { commonAffixes } from '../../text/commonAffixes.ts';
import type { EntryCollection } from '../fileKind.ts';
import { linesOf } from '../../text/lines.ts';
import { hasLoneReturn, ChunkSplitter, type ChunkRange } from './splitIntoChunks.ts';

/** A text that was cut into pieces: each ends where the next begins. */
export interface ChunkLayout {
  readonly text: string;
  readonly chunks: readonly Pick<ChunkRange, 'section'>[];
  readonly starts: readonly number[];
  /** How many of the pieces are lines that belong nowhere. */
  readonly strays: number;
}

/** How the pieces of a text differ from those of the text before: all others are kept, moved by `shift`. */
export interface Resplit {
  /** Pieces before from this index up to, not with, `to` are replaced by `pieces`. */
  readonly from: number;
  readonly to: number;
  readonly pieces: readonly ChunkRange[];
  /** Characters by which the pieces from `to` on have moved. */
  readonly shift: number;
}

/**
 * Cuts an edited text anew, looking only at the pieces around the edit: before it a piece more, since what follows a
 * piece decides where it ends. Undefined where that could differ from cutting the whole text (see `splitIntoChunks`): lines
 * that belong nowhere, before or after the edit, are judged by what stands far from them.
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
  // What a file begins with decides about more than its first piece.
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

/** Index of the first of the ascending offsets, behind the very first, that is not below `offset`. */
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
