import { booleanShape, listOf, numberShape, orNull, record, textShape, type ShapeType } from '../shape.ts';
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
export const oddsShape = record({
  summary: textShape,
  facts: listOf(factShape),
  bins: listOf(bin),
  ticks: listOf(tickShape),
  /** Shares of the finished runs, for the vertical axis. */
  shareTicks: listOf(tickShape),
  target: orNull(record({ seconds: numberShape, text: textShape })),
  resetLine: listOf(resetPoint),
  resetText: textShape,
  /** Chances that a run that is started and never reset beats a time, from the fastest time on. */
  chances: listOf(record({ time: textShape, chance: textShape, isTarget: booleanShape })),
  /** How to divide the hours left between practice and runs; null without a target or a plan. */
  practiseOrRun: orNull(
    record({ text: textShape, columns: listOf(textShape), rows: listOf(listOf(textShape)) }),
  ),
  /** The expected best of a number of finished runs. */
  bests: listOf(record({ runs: textShape, best: textShape })),
  /** What the odds rest on: whole sentences. */
  basis: listOf(textShape),
});
export type OddsView = ShapeType<typeof oddsShape>;
export type ResetPoint = ShapeType<typeof resetPoint>;
