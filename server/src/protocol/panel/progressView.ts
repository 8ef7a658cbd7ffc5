import { booleanShape, listOf, numberShape, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { techniqueNameFields, tickShape } from './viewParts.ts';

/** A landing rate that was counted in one period. */
const ratePoint = record({
  /** The middle of the period, in days since 1970-01-01. */
  day: numberShape,
  /** 0 to 1. */
  rate: numberShape,
  tries: numberShape,
  /** Where there are few tries: the range that they leave, 0 to 1. */
  range: orNull(record({ low: numberShape, high: numberShape })),
  /** Whether the period before has a point as well. */
  joined: booleanShape,
  /** `week of 2026-10-05: 12 of 20, 60 % (46 to 73 %)`. */
  text: textShape,
});

const techniqueRates = record({
  ...techniqueNameFields,
  /** `In the run since 2026-10-20`; empty where that is not known yet. */
  standing: textShape,
  /** `3.4 h of practice`. */
  practised: textShape,
  /** The rates in a sentence. */
  summary: textShape,
  practice: listOf(ratePoint),
  run: listOf(ratePoint),
  /** The same as a table: the period, in practice, in runs, practised. */
  rows: listOf(listOf(textShape)),
});

const finishedRun = record({
  day: numberShape,
  seconds: numberShape,
  bestSoFar: numberShape,
  isBest: booleanShape,
  text: textShape,
});

export const progressShape = record({
  /** How much is shown, and how much was logged, in whole sentences. */
  summary: textShape,
  /** Months that are shown, and the lengths that can be chosen; none where there is one only. */
  months: numberShape,
  choices: listOf(record({ months: numberShape, text: textShape })),
  /** First and last day of all horizontal axes, and their ticks. */
  from: numberShape,
  until: numberShape,
  ticks: listOf(tickShape),
  times: record({
    summary: textShape,
    runs: listOf(finishedRun),
    /** The best time before the first day shown, seconds. */
    bestBefore: orNull(numberShape),
    target: orNull(record({ seconds: numberShape, text: textShape })),
    /** Ends of the vertical axis, seconds, and its ticks. */
    fastest: numberShape,
    slowest: numberShape,
    timeTicks: listOf(tickShape),
    columns: listOf(textShape),
    rows: listOf(listOf(textShape)),
  }),
  hours: record({
    summary: textShape,
    /** Hours a week in each period. */
    bars: listOf(record({ from: numberShape, to: numberShape, hours: numberShape, text: textShape })),
    hourTicks: listOf(tickShape),
    columns: listOf(textShape),
    rows: listOf(listOf(textShape)),
  }),
  /** The head of the tables of techniques. */
  columns: listOf(textShape),
  /** Techniques with something logged, in the order of the route. */
  techniques: listOf(techniqueRates),
  /** The most tries of a point of all techniques. */
  mostTries: record({ practice: numberShape, run: numberShape }),
  /** What the marks and their ranges mean, in a sentence. */
  rangeText: textShape,
  /** Which techniques have nothing logged, in a sentence; empty where all have something. */
  quietText: textShape,
});
export type ProgressView = ShapeType<typeof progressShape>;
export type TechniqueRates = ShapeType<typeof techniqueRates>;
export type RatePoint = ShapeType<typeof ratePoint>;
export type FinishedRunMark = ShapeType<typeof finishedRun>;
