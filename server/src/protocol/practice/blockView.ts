/** What the view of a practice block shows. The editor keeps the time; the view shows and takes keys. */
import {
  booleanShape,
  listOf,
  numberShape,
  oneOf,
  orNull,
  record,
  textShape,
  type ShapeType,
} from '../shape.ts';
import { bindingsShape, practiceVersion } from './bindings.ts';

/** One try of a block that counts, as it was logged. */
export const attemptShape = record({
  /** Milliseconds since 1970. */
  at: numberShape,
  landed: booleanShape,
});
export type LoggedAttempt = ShapeType<typeof attemptShape>;

const planned = record({ technique: textShape, name: textShape, minutes: numberShape, from: textShape });
/**
 * `block`: it runs. `up`: its time is up, the attempt under way still counts. `count`: it is over and nothing was
 * counted by key. `rest`: it is logged. `rested`: the rest is over, too.
 */
export const phaseShape = oneOf('block', 'up', 'count', 'rest', 'rested');
export type PracticePhase = ShapeType<typeof phaseShape>;

export const practiceDataShape = record({
  version: oneOf(practiceVersion),
  phase: phaseShape,
  route: textShape,
  name: textShape,
  from: textShape,
  /** Seconds. */
  cycle: numberShape,
  /** The editor's clock as this was sent, ms since 1970, and on it: */
  now: numberShape,
  began: numberShape,
  ends: numberShape,
  restEnds: orNull(numberShape),
  attempts: listOf(attemptShape),
  /** What was said last; empty where there is nothing to say. */
  said: textShape,
  promise: textShape,
  caution: orNull(textShape),
  /** Attempts have come slower than the route says. */
  slow: orNull(record({ text: textShape, cycle: numberShape })),
  next: orNull(planned),
  /** Whether the next block is still being planned. */
  planning: booleanShape,
  bindings: bindingsShape,
});
export type PracticeData = ShapeType<typeof practiceDataShape>;
