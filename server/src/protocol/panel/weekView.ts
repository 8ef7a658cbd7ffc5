import { booleanShape, listOf, numberShape, record, textShape, type ShapeType } from '../shape.ts';
import { tonightShape } from './tonightView.ts';
import {
  estimateShape,
  factShape,
  tickShape,
  techniqueNameFields,
  techniqueStatusFields,
} from './viewParts.ts';

const member = record({ ...techniqueNameFields, ...techniqueStatusFields });
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
  /** The practice set. */
  set: listOf(member),
  /** The techniques that the week file pins or leaves out and that are not in the set. */
  outside: listOf(member),
  days: listOf(plannedDay),
  /** Minutes of the longest day, rests and runs included. */
  longest: numberShape,
  forecast: listOf(forecastPoint),
  ticks: listOf(tickShape),
  gainTicks: listOf(tickShape),
  facts: listOf(factShape),
  notes: listOf(textShape),
});
export type SetMember = ShapeType<typeof member>;
export type WeekView = ShapeType<typeof weekShape>;
export type PlannedDay = ShapeType<typeof plannedDay>;
