import { commonEnds } from './commonEnds.ts';
import type { Section } from './kinds.ts';
import { linesOf } from './lines.ts';
import { hasLoneReturn, Splitter, type Piece } from './split.ts';

/** How the pieces of a text differ from those of the text before: all others are kept, moved by `shift`. */
export interface Resplit {
  /** Pieces before from this index up to, not with, `to` are replaced by `pieces`. */
  readonly from: number;
  readonly to: number;
  readonly pieces: readonly Piece[];
  /** Characters by which the pieces from `to` on have moved. */
  readonly shift: number;
}

/**
 * Cuts an edited text anew, looking only at the pieces around the edit: before it a piece more, since what follows a
 * piece decides where it ends. Undefined where that could differ from cutting the whole text (see `split`): lines
 * that belong nowhere, before or after the edit, are judged by what stands far from them.
 */
export function splitAgain(
  text: string,
  sections: readonly Section[],
  before: { readonly text: string; readonly pieces: readonly Piece[] },
): Resplit | undefined {
  const { pieces: old } = before;
  if (hasLoneReturn(text) || old.some(({ stray }) => stray)) return undefined;
  const { same, sameEnd } = commonEnds(before.text, text);
  const shift = text.length - before.text.length;
  const from = old.findIndex(({ end }) => end >= same) - 1;
  // What a file begins with decides about more than its first piece.
  if (from < 1) return undefined;
  const { start, section } = old[from]!;
  const splitter = new Splitter(text, sections);
  if (section) splitter.resume(section, indentAt(text, start));

  let to = from + 1;
  for (const line of linesOf(text, start)) {
    while (to < old.length && old[to]!.start + shift < line.start) to++;
    const here = line.start >= text.length - sameEnd ? old[to] : undefined;
    if (here?.start === line.start - shift && splitter.goesOnWith(here.section, line.depth)) break;
    if (!splitter.take(line)) return undefined;
    if (line.next === text.length) to = old.length;
  }
  const { pieces } = splitter;
  return pieces.some(({ stray }) => stray) ? undefined : { from, to, pieces, shift };
}

function indentAt(text: string, start: number): number {
  let at = start;
  while (text[at] === ' ') at++;
  return at - start;
}
