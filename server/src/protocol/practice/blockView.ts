/** What the view of a practice block shows. The editor keeps the time; the view displays it and handles keys. */
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
import { phaseShape } from './phases.ts';

/** One try of a block that counts, as it was logged. */
export const attemptShape = record({
  /** Milliseconds since 1970. */
  at: numberShape,
  landed: booleanShape,
});
export type LoggedAttempt = ShapeType<typeof attemptShape>;

const planned = record({ technique: textShape, name: textShape, minutes: numberShape, from: textShape });
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
  /** When it was paused; null where it is not. */
  pausedAt: orNull(numberShape),
  /** The landing rate in practice that was usual before the block: `41 %`; empty where it is not known. */
  usual: textShape,
  /** Where the technique stood before the block; empty where it is not known. */
  standing: textShape,
  /** The same two once the block is logged; null until they are known. */
  after: orNull(record({ usual: textShape, standing: textShape })),
  /** What the route says about the technique, with its line ends; empty where it says nothing. */
  notes: textShape,
  /** Its links, as the route has them: of those that are no address of the web no link is made. */
  links: listOf(textShape),
  /** Whether the block's time was up by itself. */
  timeUp: booleanShape,
  /** Whether the page sounds when the time is up. */
  sound: booleanShape,
  /** Whether clock and counts are shown so large that they can be read across a room. */
  large: booleanShape,
  /** Whether the log is open in the editor with changes that are not saved. */
  unsaved: booleanShape,
  attempts: listOf(attemptShape),
  /** The sentence shown last; empty where there is none. */
  said: textShape,
  promise: textShape,
  caution: orNull(textShape),
  /** Set where attempts come more slowly than the cycle in the route: a sentence, and the cycle that they have. */
  slow: orNull(record({ text: textShape, cycle: numberShape })),
  next: orNull(planned),
  /** Whether the next block is still being planned. */
  planning: booleanShape,
  bindings: bindingsShape,
});
export type PracticeData = ShapeType<typeof practiceDataShape>;
