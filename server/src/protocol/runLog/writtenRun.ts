/** A run, or an evening of runs, as a person wrote it: each field holds the text of a field. */
import { listOf, numberShape, oneOf, orNull, record, textShape, type ShapeType } from '../shape.ts';

export const endingShape = oneOf('miss', 'death', 'reset');
/** Why a run ended before its end. */
export type RunEnding = ShapeType<typeof endingShape>;

export const writtenRunFields = {
  /** When it began, such as `2026-10-04T16:34`; empty: it has just ended. */
  start: textShape,
  /** `41:30.2`; empty where it is not known. */
  total: textShape,
  /** Times by the id of their segment; a segment without a time is left out. */
  times: listOf(record({ segment: textShape, time: textShape })),
  /** What was tried: the id of a technique, or `id@use` for one of several uses. One that is there twice is added up. */
  tried: listOf(record({ use: textShape, landed: numberShape, tries: numberShape })),
  ended: orNull(record({ at: textShape, why: endingShape, by: orNull(textShape) })),
  /** What it was run on; empty where nothing is said. */
  on: textShape,
};
export const writtenRunShape = record(writtenRunFields);
export type WrittenRunForm = ShapeType<typeof writtenRunShape>;

export const writtenEveningFields = {
  /** `2026-10-03` */
  date: textShape,
  runs: textShape,
  /** Empty where it is not known; so are the minutes. */
  finished: textShape,
  minutes: textShape,
  /** How many runs ended in a segment; a count that is empty is left out. */
  ended: listOf(record({ segment: textShape, why: endingShape, runs: textShape })),
  /** Landed and tries by use; where both are empty, nothing is said of the use. */
  tried: listOf(record({ use: textShape, landed: textShape, tries: textShape })),
  on: textShape,
};
export const writtenEveningShape = record(writtenEveningFields);
export type WrittenEveningForm = ShapeType<typeof writtenEveningShape>;
