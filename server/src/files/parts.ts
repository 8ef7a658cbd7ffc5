import type { Section } from './kinds.ts';
import { parseYaml, type Parsed } from './parse.ts';
import type { Span } from './problem.ts';
import { split, type Piece } from './split.ts';
import { splitAgain } from './splitAgain.ts';

/** A piece of a file's text, and what was read of it. */
export interface Part {
  readonly piece: Piece;
  readonly parsed: Parsed;
}

/** A text in pieces that were read apart. */
export interface InParts {
  readonly text: string;
  readonly parts: readonly Part[];
}

export interface Parts extends InParts {
  /** The stretch of text that was read anew; all around it stood in the text before. */
  readonly anew: Span;
}

/**
 * Reads a text in pieces; what was read of a piece of the text before is taken from there. Undefined where the text
 * cannot be read in pieces.
 */
export function readParts(text: string, sections: readonly Section[], before?: InParts): Parts | undefined {
  const again =
    before &&
    splitAgain(text, sections, { text: before.text, pieces: before.parts.map(({ piece }) => piece) });
  if (!again) {
    const known = textsOf(before?.text ?? '', before?.parts ?? []);
    const parts = split(text, sections)?.map((piece) => readPart(text, piece, known));
    return parts && { text, parts, anew: { start: 0, end: text.length } };
  }
  const { from, to, pieces, shift } = again;
  const known = textsOf(before.text, before.parts.slice(from, to));
  const parts = before.parts.slice(0, from);
  for (const piece of pieces) parts.push(readPart(text, piece, known));
  for (let at = to; at < before.parts.length; at++) {
    const part = before.parts[at]!;
    parts.push(shift === 0 ? part : { piece: moved(part.piece, shift), parsed: part.parsed });
  }
  return { text, parts, anew: { start: pieces[0]!.start, end: pieces.at(-1)!.end } };
}

const unread: Parsed = { tree: undefined, problems: [], usesAnchors: false };

function readPart(text: string, piece: Piece, known: Map<string, Parsed>): Part {
  if (piece.stray) return { piece, parsed: unread };
  const own = text.slice(piece.start, piece.end);
  let parsed = known.get(own);
  if (!parsed) known.set(own, (parsed = parseYaml(alone(own))));
  return { piece, parsed };
}

/** A copy: what is cut out of a text keeps all of that text in memory, and so would every name that is read from it. */
function alone(text: string): string {
  return ` ${text}`.slice(1);
}

/** What was read, by the text that it was read from. */
function textsOf(text: string, parts: readonly Part[]): Map<string, Parsed> {
  const texts = new Map<string, Parsed>();
  for (const { piece, parsed } of parts)
    if (!piece.stray) texts.set(text.slice(piece.start, piece.end), parsed);
  return texts;
}

function moved(piece: Piece, shift: number): Piece {
  return { ...piece, start: piece.start + shift, end: piece.end + shift };
}
