/** Messages during a practice block. The server logs; the client keeps the time. */
import { notification, request } from './message.ts';
import { attemptShape } from '../practice/blockView.ts';
import { refusalShape } from '../refusal.ts';
import {
  booleanShape,
  listOf,
  numberShape,
  optional,
  orNull,
  pairOf,
  record,
  textShape,
  unionOf,
  type ShapeType,
} from '../shape.ts';

const practiceStartParams = record({ uri: textShape, technique: textShape });
export type PracticeStartParams = ShapeType<typeof practiceStartParams>;
const practiceStartResult = unionOf(
  // `began`: ms since 1970.
  record({ block: textShape, began: numberShape }),
  refusalShape,
);
export type PracticeStartResult = ShapeType<typeof practiceStartResult>;
/** Client → server: begins a block. */
export const practiceStartRequest = request('routewright/practiceStart', {
  params: practiceStartParams,
  result: practiceStartResult,
});

const techniqueNotesParams = record({ uri: textShape, technique: textShape });
export type TechniqueNotesParams = ShapeType<typeof techniqueNotesParams>;
const techniqueNotesResult = record({
  /** With its line ends; empty where the route says nothing. */
  notes: textShape,
  /** As they are written in the route. */
  links: listOf(textShape),
});
/** What a route says about a technique in words of its own. */
export type TechniqueNotes = ShapeType<typeof techniqueNotesResult>;
/** Client → server: notes and links of a technique. */
export const techniqueNotesRequest = request('routewright/techniqueNotes', {
  params: techniqueNotesParams,
  result: techniqueNotesResult,
});

const blockFields = {
  /** The practice file. */
  uri: textShape,
  block: textShape,
  technique: textShape,
};
const blockParams = record(blockFields);
/** A block of one practice file. */
export type BlockParams = ShapeType<typeof blockParams>;

const countedAttempts = record({ attempts: listOf(attemptShape) });
/** The attempts of a block that count so far. */
export type CountedAttempts = ShapeType<typeof countedAttempts>;
const countedAttemptsResult = unionOf(countedAttempts, refusalShape);
export type CountedAttemptsResult = ShapeType<typeof countedAttemptsResult>;

const practiceAttemptParams = record({ ...blockFields, landed: booleanShape });
export type PracticeAttemptParams = ShapeType<typeof practiceAttemptParams>;
/** Client → server: logs an attempt. The answer comes when it is written. */
export const practiceAttemptRequest = request('routewright/practiceAttempt', {
  params: practiceAttemptParams,
  result: countedAttemptsResult,
});
/** Client → server: takes the last attempt back. The answer comes when that is written. */
export const practiceTakeBackRequest = request('routewright/practiceTakeBack', {
  params: blockParams,
  result: countedAttemptsResult,
});
/** Client → server: which attempts of a block count so far. */
export const countedAttemptsRequest = request('routewright/countedAttempts', {
  params: blockParams,
  result: countedAttemptsResult,
});

const practiceEndParams = record({
  ...blockFields,
  /** Landed attempts and tries, where they were not logged one by one; else null. */
  counts: orNull(pairOf(numberShape)),
  /** True leaves the block out of the log. */
  leaveOut: booleanShape,
  /**
   * When the block's time was up, ms since 1970. Time after that counts as practice only where attempts were logged in
   * it.
   */
  until: numberShape,
  /** Milliseconds in which the block was paused. */
  paused: optional(numberShape),
});
export type PracticeEndParams = ShapeType<typeof practiceEndParams>;
const practiceEndResult = unionOf(
  // `said`: where it went, in a sentence. `minutes`: as logged; 0 where it was left out.
  record({ said: textShape, minutes: numberShape }),
  refusalShape,
);
export type PracticeEndResult = ShapeType<typeof practiceEndResult>;
/** Client → server: ends a block and writes it into its practice file. */
export const practiceEndRequest = request('routewright/practiceEnd', {
  params: practiceEndParams,
  result: practiceEndResult,
});

const practiceChangedParams = record({ uri: textShape });
/** Server → client: another program has written to the journal of a practice file. */
export const practiceChangedNotification = notification('routewright/practiceChanged', practiceChangedParams);

const correctCycleParams = record({
  uri: textShape,
  technique: textShape,
  /** Seconds. */
  cycle: numberShape,
});
export type CorrectCycleParams = ShapeType<typeof correctCycleParams>;
/** A sentence on what was done, or why nothing was. */
const correctCycleResult = record({ message: textShape });
/** Client → server: writes another cycle of a technique into the route file. */
export const correctCycleRequest = request('routewright/correctCycle', {
  params: correctCycleParams,
  result: correctCycleResult,
});
