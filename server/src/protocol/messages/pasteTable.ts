import { fileEditShape } from '../fileEdit.ts';
import { fileTextShape } from '../fileText.ts';
import { listOf, optional, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { request } from './message.ts';

/** A table of segments or techniques, as it was on the clipboard. */
export const pastedTableShape = record({
  text: fileTextShape,
  /** Headings of columns that the person wants nothing of. */
  ignored: listOf(textShape),
});
export type PastedTable = ShapeType<typeof pastedTableShape>;

const pasteTableParams = record({
  /** Any file of the route; null where a new route is to be made of the table. */
  uri: orNull(textShape),
  table: pastedTableShape,
});
export type PasteTableParams = ShapeType<typeof pasteTableParams>;

const pasteTableResult = record({
  /** A sentence on what was understood, or why the table is not taken. */
  message: textShape,
  /** Short lines for the preview: what is left out, then the first entries; or the places that cannot be read. */
  details: listOf(textShape),
  /** Whether there is something to paste. */
  fits: optional(record({ into: textShape })),
  /** Absent for a new route, and where nothing is pasted. */
  edit: optional(fileEditShape),
  /** Headings of columns without which the table may be read. */
  leaveOut: listOf(textShape),
});
export type PasteTableResult = ShapeType<typeof pasteTableResult>;

/** Client → server: what a table would add to a route, and the edit that adds it. */
export const pasteTableRequest = request('routewright/pasteTable', {
  params: pasteTableParams,
  result: pasteTableResult,
});
