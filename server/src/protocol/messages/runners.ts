import { notification, request } from './message.ts';
import {
  booleanShape,
  listOf,
  opaque,
  orNull,
  record,
  textShape,
  unionOf,
  type ShapeType,
} from '../shape.ts';
import { refusalShape } from '../refusal.ts';

const whoseLogsParams = record({ uri: textShape });
export type WhoseLogsParams = ShapeType<typeof whoseLogsParams>;

const namedRunner = record({
  /** As the files name them. */
  runner: textShape,
  /** The name as text for people. */
  name: textShape,
  /** Names of the files that name them. */
  files: textShape,
});

const whoseLogs = record({
  /** URI of the folder that a choice is for. */
  folder: textShape,
  /** The runners that the logs and week files of the route name, in the order of a list to choose from. */
  runners: listOf(namedRunner),
  /** Whose logs count; null where all count, or where it is not known whose. */
  counts: orNull(namedRunner),
  /** Why these logs count, a sentence; null where nobody else is named, and where it is not known whose count. */
  reason: orNull(textShape),
  /** Whether somebody is chosen in the editor for the folder. */
  chosen: booleanShape,
  /** Who counts for the file where nobody is chosen in the editor; null where all count, or where that is not known. */
  byFiles: orNull(namedRunner),
  /** Whether there is something to choose: several runners are named, or the chosen one is not. */
  choice: booleanShape,
  /** Why it is not known whose logs count; null where it is known. */
  problem: orNull(textShape),
});
export type WhoseLogs = ShapeType<typeof whoseLogs>;

const whoseLogsResult = unionOf(whoseLogs, refusalShape);
export type WhoseLogsResult = ShapeType<typeof whoseLogsResult>;

/** Client → server: whose logs count for the route of a file. */
export const whoseLogsRequest = request('routewright/whoseLogs', {
  params: whoseLogsParams,
  result: whoseLogsResult,
});

// Kept by the editor from one session to the next: the server ignores each entry that is not valid.
const chosenRunnersParams = record({ runners: opaque<Readonly<Record<string, string>>>() });
/** Client → server: whose logs count, by the URI of a route's folder as `whoseLogs` gives it. */
export const chosenRunnersNotification = notification('routewright/chosenRunners', chosenRunnersParams);
