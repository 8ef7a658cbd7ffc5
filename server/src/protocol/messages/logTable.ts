/** A table of past practice or runs from the clipboard. */
import { fileTextShape } from '../fileText.ts';
import { request } from './message.ts';
import { logEntryResult } from './logEntry.ts';
import { listOf, oneOf, optional, record, textShape, type ShapeType } from '../shape.ts';

const dateOrderShape = oneOf('day-first', 'month-first');

const logTableParams = record({
  /** Any file of the route. */
  uri: textShape,
  text: fileTextShape,
  /** Headings of columns that the person wants nothing of. */
  ignored: listOf(textShape),
  /** Which of two small numbers of a date is the day, where the person was asked. */
  dates: optional(dateOrderShape),
});
export type LogTableParams = ShapeType<typeof logTableParams>;

const logTablePreview = record({
  /** A sentence on what was understood, or why the table is not taken. */
  message: textShape,
  /** Short lines: what is left out, then the first entries; or the places that cannot be read. */
  details: listOf(textShape),
  /** The file that the entries go into; absent where nothing is to be logged. */
  into: optional(textShape),
  /** Headings of columns without which the table may be read. */
  leaveOut: listOf(textShape),
  /** Orders of day and month to choose from, where the table can be read in both. */
  orders: listOf(dateOrderShape),
});
export type LogTablePreview = ShapeType<typeof logTablePreview>;

/** Client → server: what a table would add to the logs. */
export const previewLogTableRequest = request('routewright/previewLogTable', {
  params: logTableParams,
  result: logTablePreview,
});

/** Client → server: adds the rows of a table to the log, through its journal and by one edit that can be undone. */
export const logTableRequest = request('routewright/logTable', {
  params: logTableParams,
  result: logEntryResult,
});
