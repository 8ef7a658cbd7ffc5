import { listOf, numberShape, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { factShape, tickShape } from './viewParts.ts';

const bin = record({
  from: numberShape,
  to: numberShape,
  share: numberShape,
  label: textShape,
  text: textShape,
});
const resetPoint = record({
  segment: textShape,
  name: textShape,
  /** How much slower or faster than an average run that time is, in words; empty where a reset never pays. */
  leeway: textShape,
  text: textShape,
});
export const runShape = record({
  summary: textShape,
  facts: listOf(factShape),
  bins: listOf(bin),
  ticks: listOf(tickShape),
  target: orNull(record({ seconds: numberShape, text: textShape })),
  resetLine: listOf(resetPoint),
  resetText: textShape,
});
export type RunView = ShapeType<typeof runShape>;
export type ResetPoint = ShapeType<typeof resetPoint>;
