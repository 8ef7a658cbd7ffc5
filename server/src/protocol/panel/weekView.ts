import { booleanShape, listOf, numberShape, record, textShape, type ShapeType } from '../shape.ts';
import { tonightShape } from './tonightView.ts';
import {
  estimateShape,
  factShape,
  tickShape,
  techniqueNameFields,
  techniqueStatusFields,
} from './viewParts.ts';

const block = record({ ...techniqueNameFields, minutes: numberShape, rest: numberShape });
const plannedDay = record({
  date: textShape,
  label: textShape,
  today: booleanShape,
  off: booleanShape,
  blocks: listOf(block),
  runMinutes: numberShape,
  totalText: textShape,
  text: textShape,
});
const forecastPoint = record({ day: numberShape, date: textShape, gain: estimateShape, text: textShape });
export const weekShape = record({
  tonight: tonightShape,
  summary: textShape,
  set: listOf(record({ ...techniqueNameFields, ...techniqueStatusFields })),
  days: listOf(plannedDay),
  /** Minutes of the longest day, rests and runs included. */
  longest: numberShape,
  forecast: listOf(forecastPoint),
  ticks: listOf(tickShape),
  gainTicks: listOf(tickShape),
  facts: listOf(factShape),
  notes: listOf(textShape),
});
export type WeekView = ShapeType<typeof weekShape>;
export type PlannedDay = ShapeType<typeof plannedDay>;
