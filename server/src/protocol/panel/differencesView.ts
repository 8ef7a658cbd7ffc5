import { booleanShape, listOf, numberShape, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { tickShape } from './viewParts.ts';

const differenceRow = record({
  id: textShape,
  /** A segment, or the total. */
  name: textShape,
  isTotal: booleanShape,
  /** The second time of the row less the first, in seconds; null where one of them is missing. */
  delta: orNull(numberShape),
  /** The same in words: `1.2 s slower than usual`. */
  words: textShape,
  first: textShape,
  second: textShape,
});
/** Two times of each segment, and of the whole. */
export const differencesShape = record({
  caption: textShape,
  /** Titles of the two times in the table. */
  titles: record({ first: textShape, second: textShape }),
  /** What it means to be at the left and at the right of the middle line. */
  sides: record({ less: textShape, more: textShape }),
  rows: listOf(differenceRow),
  /** Seconds at either end of the axis. */
  reach: numberShape,
  ticks: listOf(tickShape),
});
export type DifferencesView = ShapeType<typeof differencesShape>;
export type DifferenceRow = ShapeType<typeof differenceRow>;
