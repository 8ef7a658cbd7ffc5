import {
  booleanShape,
  listOf,
  numberShape,
  oneOf,
  orNull,
  record,
  textShape,
  type ShapeType,
} from '../shape.ts';
import {
  estimateShape,
  factShape,
  tickShape,
  techniqueNameFields,
  techniqueStatusFields,
} from './viewParts.ts';

const curvePoint = record({
  /** Days since 1970-01-01. */
  day: numberShape,
  date: textShape,
  ahead: booleanShape,
  practice: estimateShape,
  run: estimateShape,
  practiceText: textShape,
  runText: textShape,
});
const curveResult = record({
  day: numberShape,
  date: textShape,
  kind: oneOf('practice', 'run'),
  landed: numberShape,
  tries: numberShape,
  rate: numberShape,
  text: textShape,
});
export const curveShape = record({
  ...techniqueNameFields,
  ...techniqueStatusFields,
  summary: textShape,
  facts: listOf(factShape),
  points: listOf(curvePoint),
  results: listOf(curveResult),
  today: numberShape,
  breakEven: orNull(numberShape),
  breakEvenText: orNull(textShape),
  ticks: listOf(tickShape),
  forecastText: textShape,
});
export type CurveView = ShapeType<typeof curveShape>;
export type CurvePoint = ShapeType<typeof curvePoint>;
export type CurveResult = ShapeType<typeof curveResult>;
