import { fileTextShape } from '../fileText.ts';
import { request } from './message.ts';
import { listOf, record, textShape, type ShapeType } from '../shape.ts';

const starterParams = record({ game: textShape });
export type StarterParams = ShapeType<typeof starterParams>;

const starterResult = record({
  /** The files of one folder with their names, the route first. */
  files: listOf(record({ name: textShape, text: fileTextShape })),
});
export type StarterResult = ShapeType<typeof starterResult>;

/** Client → server: the texts of a small first route, with its logs and week. */
export const starterRequest = request('routewright/starter', {
  params: starterParams,
  result: starterResult,
});
