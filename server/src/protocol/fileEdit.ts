import { fileTextShape } from './fileText.ts';
import { rangeShape } from './places.ts';
import {
  booleanShape,
  listOf,
  numberShape,
  optional,
  orNull,
  record,
  textShape,
  type ShapeType,
} from './shape.ts';

/** An edit of one file: made by the server, applied by the client as one step to undo. */
export const fileEditShape = record({
  uri: textShape,
  /** Version of the document that the changes are for; null where it is not open. */
  version: orNull(numberShape),
  /** Ranges of the document as it is before the edit; none overlaps another. */
  changes: listOf(record({ range: rangeShape, newText: fileTextShape })),
  /** True where the file does not exist yet and the client has to create it with the new text. */
  create: booleanShape,
});
export type FileEdit = ShapeType<typeof fileEditShape>;

/** The answer to a request that asks for an edit. */
export const fileEditResultShape = record({
  /** Absent where there is nothing to change. */
  edit: optional(fileEditShape),
  /** A sentence on what the edit does, or why there is none. */
  message: textShape,
});
export type FileEditResult = ShapeType<typeof fileEditResultShape>;

/** The edit that creates a file. */
export function newFileEdit(uri: string, text: string): FileEdit {
  const start = { line: 0, character: 0 };
  return { uri, version: null, changes: [{ range: { start, end: start }, newText: text }], create: true };
}
