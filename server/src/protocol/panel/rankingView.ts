import { listOf, numberShape, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { objectiveShape } from './views.ts';
import {
  estimateShape,
  factShape,
  tickShape,
  techniqueNameFields,
  techniqueStatusFields,
} from './viewParts.ts';

const rankedRow = record({
  ...techniqueNameFields,
  ...techniqueStatusFields,
  place: numberShape,
  /** Seconds, or percentage points of chance, per hour of practice. */
  gain: estimateShape,
  gainText: textShape,
  expectedText: textShape,
  hoursText: textShape,
  facts: listOf(factShape),
  reason: textShape,
});
const skippedRow = record({ ...techniqueNameFields, ...techniqueStatusFields, reason: textShape });
export const rankingShape = record({
  rows: listOf(rankedRow),
  skipped: listOf(skippedRow),
  ticks: listOf(tickShape),
  axisLabel: textShape,
  /** Ids and names of what it can be by; with one alone there is nothing to choose. */
  objectives: listOf(record({ objective: objectiveShape, label: textShape })),
  /** How the ranking stands to the target; null where it is by time. */
  targetText: orNull(textShape),
  /** What is known of the runner, in a sentence. */
  runnerText: textShape,
});
export type RankingView = ShapeType<typeof rankingShape>;
export type RankedRow = ShapeType<typeof rankedRow>;
export type SkippedRow = ShapeType<typeof skippedRow>;
