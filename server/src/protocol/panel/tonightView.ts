import { listOf, record, textShape, type ShapeType } from '../shape.ts';
import { factShape, techniqueNameFields } from './viewParts.ts';

/** Tonight in words: what to practise, and what a runner should know before a run. */
export const tonightShape = record({
  /** `Tonight, Mon 2026-11-09`. */
  title: textShape,
  /** What to practise, or why there is nothing to practise. */
  summary: textShape,
  /** Why there is nothing to practise, where the place says already that there is nothing; empty where there is something. */
  whyNothing: textShape,
  /** The blocks in their order, each with its minutes, where its quick repeat starts, and the rest after it. */
  steps: listOf(record({ ...techniqueNameFields, text: textShape })),
  /** Done today, why, changed, not in runs, unused, and the caution. */
  lines: listOf(factShape),
  /** Swaps that the runner may want to make: each is an edit of the week file that `routewright/swap` gives. */
  swaps: listOf(
    record({
      technique: textShape,
      /** The technique that would take its place. */
      instead: textShape,
      /** `Swap Oil slick for Blind line`, the text of a button. */
      title: textShape,
      /** What an hour on either is expected to gain. */
      text: textShape,
    }),
  ),
});
export type TonightView = ShapeType<typeof tonightShape>;
