/** Logging a whole block or a whole run. Each field holds the text as a person wrote it. */
import { fileEditShape } from '../fileEdit.ts';
import { request } from './message.ts';
import { refusalShape } from '../refusal.ts';
import { runFormShape } from '../runLog/runForm.ts';
import { writtenEveningFields, writtenRunFields } from '../runLog/writtenRun.ts';
import { booleanShape, orNull, record, textShape, unionOf, type ShapeType } from '../shape.ts';
import { logFileShape } from './practiceOffer.ts';

/** The answer to a request that logs something. */
export const logEntryResult = unionOf(
  // `id` of the entry that was logged; null where nothing was written. `said`: what was logged and where it is now;
  // `outcome`: only where it is now.
  record({ id: orNull(textShape), said: textShape, outcome: textShape }),
  // The entry can be logged, but its log does not exist yet: to be created by this edit and then asked for by its URI.
  record({ begin: fileEditShape }),
  refusalShape,
);
export type LogEntryResult = ShapeType<typeof logEntryResult>;

/** The log that an entry goes into; where there is none yet, any file of the route. */
const entryUri = { uri: textShape };

const logBlockParams = record({
  ...entryUri,
  technique: textShape,
  minutes: textShape,
  /** `12/20`, or a tape such as `lmmlll`; empty where nothing was counted. */
  result: textShape,
  /** A day, or a day and a time, such as `2026-10-04` or `2026-10-04T19:30`; empty where the block ends now. */
  start: textShape,
  /** True: nothing is written; the answer only says what is wrong with the fields. */
  dry: booleanShape,
});
export type LogBlockParams = ShapeType<typeof logBlockParams>;
/** Client → server: logs a block. */
export const logBlockRequest = request('routewright/logBlock', {
  params: logBlockParams,
  result: logEntryResult,
});

const logRunParams = record({ ...entryUri, ...writtenRunFields });
export type LogRunParams = ShapeType<typeof logRunParams>;
/** Client → server: logs a run. */
export const logRunRequest = request('routewright/logRun', {
  params: logRunParams,
  result: logEntryResult,
});

const logEveningParams = record({ ...entryUri, ...writtenEveningFields });
export type LogEveningParams = ShapeType<typeof logEveningParams>;
/** Client → server: logs an evening of runs in short. */
export const logEveningRequest = request('routewright/logEvening', {
  params: logEveningParams,
  result: logEntryResult,
});

const runFormParams = record({ uri: textShape });
export type RunFormParams = ShapeType<typeof runFormParams>;
const runFormResult = unionOf(record({ form: runFormShape, runs: logFileShape }), refusalShape);
export type RunFormResult = ShapeType<typeof runFormResult>;
/** Client → server: what the page of a run asks for, and the log that the run goes into. */
export const runFormRequest = request('routewright/runForm', {
  params: runFormParams,
  result: runFormResult,
});
