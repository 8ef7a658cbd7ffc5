/** What the page of a run needs to know of the route. The server makes it; times are seconds. */
import { booleanShape, listOf, numberShape, oneOf, record, textShape, type ShapeType } from '../shape.ts';

/** Raise it with every change to the form of what is stored or sent; data with another number are not read. */
export const runLogVersion = 1;

const segment = record({
  id: textShape,
  name: textShape,
  /** What is expected of it in the runner's next run that reaches the end. */
  usual: numberShape,
  /** A time outside of these is most likely a typing mistake. */
  fastest: numberShape,
  longest: numberShape,
});
export type FormSegment = ShapeType<typeof segment>;

const use = record({
  /** The same for as long as the use stays in its segment. */
  key: textShape,
  /** Its name in a log: the id of the technique, or `id@use`. */
  use: textShape,
  technique: textShape,
  name: textShape,
  segment: textShape,
  /** Whether the runner's run tries it today. */
  tried: booleanShape,
});
export type FormUse = ShapeType<typeof use>;

export const runFormShape = record({
  version: oneOf(runLogVersion),
  /** The log, as a URI. */
  uri: textShape,
  /** Game and category. */
  route: textShape,
  /** The runner's day, such as `2026-10-03`. */
  today: textShape,
  /** In the order of the route; so are the uses. */
  segments: listOf(segment),
  uses: listOf(use),
});
export type RunForm = ShapeType<typeof runFormShape>;
