import type { EntryCollection } from '../fileKind.ts';
import type { ParsedYaml } from './parseYaml.ts';
import type { Span } from './problem.ts';

/** What was read of a piece of a file's text. It holds no absolute offsets, so that text above the piece may change. */
export interface Chunk {
  /** Set for the entries of a section. */
  readonly section: EntryCollection | undefined;
  /** True for lines that belong to no entry. */
  readonly stray: boolean;
  readonly parsed: ParsedChunk;
}

/** A piece as YAML; that of a long entry was itself read in pieces. */
export interface ParsedChunk extends ParsedYaml {
  readonly chunkedText?: ChunkedText;
}

/** A text in pieces that were read apart: each ends where the next begins. */
export interface ChunkedText {
  readonly text: string;
  readonly chunks: readonly Chunk[];
  readonly starts: readonly number[];
  /** How many of the pieces are stray lines, and how many are stray lines or have a problem. */
  readonly strays: number;
  readonly troubled: number;
  /** How many of the pieces have anchors or aliases. If there is one, the text must be read as a whole. */
  readonly anchored: number;
}

export interface ChunkedTextUpdate extends ChunkedText {
  /** The stretch of text that was read again; the text around it is unchanged. */
  readonly changedSpan: Span;
  /** Whether the pieces have the same keys in the same order as those of the previous text. */
  readonly sameKeys: boolean;
}
