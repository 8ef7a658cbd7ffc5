import { sectionsByKind, type FileKind } from '../fileKind.ts';
import { blankMergeConflicts } from '../yaml/mergeConflicts.ts';
import { splitIntoChunks } from '../yaml/splitIntoChunks.ts';
import { readSource } from './reading.ts';

/** What a log, week or pool says of itself. */
export interface FileHeader {
  /** As written, relative to the file. */
  readonly route: string | undefined;
  readonly runner: string | undefined;
}

/** A text with one of these may have anchors: what a value is can then stand anywhere. */
const anchorSigns = ['&', '*'];

/**
 * The route and the runner that a file names, the same as in its document, without reading its entries: many files are
 * so told apart in a fraction of the time.
 */
export function readHeader(kind: FileKind, text: string): FileHeader {
  const { outer } = readSource(kind, withoutEntries(kind, text));
  const { route, runner } = outer as Partial<Record<'route' | 'runner', string>>;
  return { route, runner };
}

/** The keys outside the sections, as they are written; the whole text where it cannot be taken apart. */
function withoutEntries(kind: FileKind, text: string): string {
  if (anchorSigns.some((sign) => text.includes(sign))) return text;
  const { text: clean } = blankMergeConflicts(text);
  const pieces = splitIntoChunks(clean, sectionsByKind[kind]);
  if (pieces === undefined) return text;
  return pieces
    .filter(({ section, stray }) => section === undefined && stray !== true)
    .map(({ start, end }) => clean.slice(start, end))
    .join('');
}
