import { booleanShape, listOf, numberShape, orNull, record, textShape, type ShapeType } from '../shape.ts';
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
  /** What a runner needs to know of the technique, in a few plain sentences. */
  lines: listOf(textShape),
  /** The technique is practised in a package with others. */
  inPackage: booleanShape,
  /** The row of the package; only with its first member, above which it is shown. */
  package: orNull(record({ places: textShape, name: textShape, gainText: textShape, hoursText: textShape })),
});
const skippedRow = record({ ...techniqueNameFields, ...techniqueStatusFields, reason: textShape });
export const rankingShape = record({
  rows: listOf(rankedRow),
  skipped: listOf(skippedRow),
  /** The words that mark the techniques of the practice set. */
  setMark: textShape,
  ticks: listOf(tickShape),
  axisLabel: textShape,
  /** Ids and names of the objectives; where there is only one, there is no choice to show. */
  objectives: listOf(record({ objective: objectiveShape, label: textShape })),
  /** A sentence on the target; null where the ranking is by time. */
  targetText: orNull(textShape),
  /** How the first places change with what a second lost to resets counts; null where that is not known or nothing rests on it. */
  preferenceText: orNull(textShape),
  /** A sentence on what the logs tell of the runner. */
  runnerText: textShape,
});
export type RankingView = ShapeType<typeof rankingShape>;
export type RankedRow = ShapeType<typeof rankedRow>;
export type SkippedRow = ShapeType<typeof skippedRow>;
