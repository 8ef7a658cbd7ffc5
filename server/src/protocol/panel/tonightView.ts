import { listOf, record, textShape, type ShapeType } from '../shape.ts';
import { factShape, techniqueNameFields } from './viewParts.ts';

/** Tonight in words: what to practise, and what a runner should know before a run. */
export const tonightShape = record({
  /** `Tonight, Mon 2026-11-09`. */
  title: textShape,
  /** What to practise, or why there is nothing to practise. */
  summary: textShape,
  /** The blocks in their order, each with its minutes, where its quick repeat starts, and the rest after it. */
  steps: listOf(record({ ...techniqueNameFields, text: textShape })),
  /** Done today, why, changed, not in runs, unused, and the caution. */
  lines: listOf(factShape),
});
export type TonightView = ShapeType<typeof tonightShape>;
