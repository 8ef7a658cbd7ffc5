/** Logging a whole block or a whole run. Each field holds the text as a person wrote it. */
import { request } from './message.ts';
import { refusalShape } from '../refusal.ts';
import { booleanShape, listOf, oneOf, orNull, record, textShape, unionOf, type ShapeType } from '../shape.ts';

const logEntryResult = unionOf(
  // `id` of the entry that was logged; null where nothing was written.
  record({ id: orNull(textShape), said: textShape }),
  refusalShape,
);
export type LogEntryResult = ShapeType<typeof logEntryResult>;

const logBlockParams = record({
  uri: textShape,
  technique: textShape,
  minutes: textShape,
  /** `12/20`, or a tape such as `lmmlll`; empty where nothing was counted. */
  result: textShape,
  /** True: nothing is written; the answer only says what is wrong with the fields. */
  dry: booleanShape,
});
export type LogBlockParams = ShapeType<typeof logBlockParams>;
/** Client → server: logs a block. */
export const logBlockRequest = request('routewright/logBlock', {
  params: logBlockParams,
  result: logEntryResult,
});

const logRunParams = record({
  uri: textShape,
  /** `41:30.2`; empty where it is not known. */
  total: textShape,
  /** Times in the order of the route, with spaces between; a dash where one is not known. */
  times: textShape,
  landed: listOf(textShape),
  missed: listOf(textShape),
  ended: orNull(record({ at: textShape, why: oneOf('miss', 'death', 'reset'), by: orNull(textShape) })),
  dry: booleanShape,
});
export type LogRunParams = ShapeType<typeof logRunParams>;
/** Client → server: logs a run. */
export const logRunRequest = request('routewright/logRun', {
  params: logRunParams,
  result: logEntryResult,
});
