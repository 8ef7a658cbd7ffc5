import { booleanShape, listOf, numberShape, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { pagePartShape } from './pageParts.ts';
import { techniqueNameFields } from './viewParts.ts';

const reviewedRow = record({
  ...techniqueNameFields,
  /** Tries in runs in the week, at least 1. */
  tries: numberShape,
  /** How many of them landed. */
  landed: numberShape,
  /** How many were expected to land, were nothing to have slipped; null where there is nothing to compare with. */
  expected: orNull(numberShape),
  slipped: booleanShape,
  /** `4 of 20`. */
  landedText: textShape,
  /** `79 %`, the share of the tries, or why nothing is expected. */
  expectedText: textShape,
  /** Both in short: `landed 4 of 20, expected 79 %`. */
  words: textShape,
  /** What the comparison says, in words. */
  verdict: textShape,
});
export const reviewShape = record({
  /** Which techniques slipped in the week, in a sentence. */
  summary: textShape,
  /** Techniques that were tried in runs in the week; those that slipped come first. */
  rows: listOf(reviewedRow),
  parts: listOf(pagePartShape),
});
export type ReviewView = ShapeType<typeof reviewShape>;
export type ReviewedRow = ShapeType<typeof reviewedRow>;
