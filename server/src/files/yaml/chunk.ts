import type { EntryCollection } from '../fileKind.ts';
import type { ParsedYaml } from './parseYaml.ts';
import type { Span } from './problem.ts';

/** What was read of a piece of a file's text. It knows nothing of where it stands, and so outlives what stands above it. */
export interface Chunk {
  /** Set for the entries of a section. */
  readonly section: EntryCollection | undefined;
  /** True for lines that belong to no entry. */
  readonly stray: boolean;
  readonly parsed: ParsedChunk;
}

/** What a piece says; that of a long entry was itself read in pieces. */
export interface ParsedChunk extends ParsedYaml {
  readonly chunkedText?: ChunkedText;
}

/** A text in pieces that were read apart: each ends where the next begins. */
export interface ChunkedText {
  readonly text: string;
  readonly chunks: readonly Chunk[];
  readonly starts: readonly number[];
  /** How many of the parts are lines that belong nowhere, and how many are those or have a problem. */
  readonly strays: number;
  readonly troubled: number;
  /** How many of the parts have anchors or aliases: with any, the pieces cannot be read apart after all. */
  readonly anchored: number;
}

export interface ChunkedTextUpdate extends ChunkedText {
  /** The stretch of text that was read anew; all around it stood in the text before. */
  readonly changedSpan: Span;
  /** Whether the parts say the same keys in the same order as those before. */
  readonly sameKeys: boolean;
}
