import { listOf, record, textShape, type ShapeType } from '../shape.ts';
import { differencesShape } from './differencesView.ts';
import { pagePartShape } from './pageParts.ts';

/** Two routes: A, that was chosen, and B, that the panel is of. */
export const compareShape = record({
  a: textShape,
  b: textShape,
  /** How much sooner or later a run along B is done, in a sentence. */
  summary: textShape,
  differences: differencesShape,
  /** The whole run, the techniques, and what the numbers rest on. */
  parts: listOf(pagePartShape),
});
export type CompareView = ShapeType<typeof compareShape>;
