import { listOf, record, textShape, type ShapeType } from '../shape.ts';
import { differencesShape } from './differencesView.ts';
import { pagePartShape } from './pageParts.ts';

export const afterShape = record({
  /** The run that is shown, one of `runs`. */
  run: textShape,
  /** The logged runs that can be chosen, the last one first. */
  runs: listOf(record({ run: textShape, label: textShape })),
  /** How the run went against the usual, in a sentence. */
  summary: textShape,
  differences: differencesShape,
  /** What the run changed. */
  parts: listOf(pagePartShape),
});
export type AfterView = ShapeType<typeof afterShape>;
