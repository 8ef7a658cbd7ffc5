import { fileEditShape } from '../fileEdit.ts';
import { fileTextShape } from '../fileText.ts';
import { refusalShape } from '../refusal.ts';
import { listOf, optional, orNull, record, textShape, unionOf, type ShapeType } from '../shape.ts';
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
  /** What is wrong at the first place that cannot be read, without the place. */
  reason: optional(textShape),
});
export type PasteTableResult = ShapeType<typeof pasteTableResult>;

/** Client → server: what a table would add to a route, and the edit that adds it. */
export const pasteTableRequest = request('routewright/pasteTable', {
  params: pasteTableParams,
  result: pasteTableResult,
});

const routeSegmentsParams = record({ uri: textShape });
export type RouteSegmentsParams = ShapeType<typeof routeSegmentsParams>;
const routeSegmentsResult = unionOf(
  record({ segments: listOf(record({ id: textShape, name: textShape })) }),
  refusalShape,
);
export type RouteSegmentsResult = ShapeType<typeof routeSegmentsResult>;

/** Client → server: the segments of a route in their order, for a choice of those in which a new technique is used. */
export const routeSegmentsRequest = request('routewright/routeSegments', {
  params: routeSegmentsParams,
  result: routeSegmentsResult,
});
