import { fileTextShape } from '../fileText.ts';
import { request } from './message.ts';
import { pastedTableShape } from './pasteTable.ts';
import { listOf, optional, record, textShape, type ShapeType } from '../shape.ts';

const starterParams = record({
  game: textShape,
  /** A table whose segments or techniques the route begins with, in place of its examples. */
  table: optional(pastedTableShape),
});
export type StarterParams = ShapeType<typeof starterParams>;

const starterResult = record({
  /** The files of one folder with their names, the route first. */
  files: listOf(record({ name: textShape, text: fileTextShape })),
});
export type StarterResult = ShapeType<typeof starterResult>;

/** Client → server: the texts of a first route, with its logs and week. */
export const starterRequest = request('routewright/starter', {
  params: starterParams,
  result: starterResult,
});
