/** Parts that several views of the panel have. */
import { booleanShape, numberShape, oneOf, record, textShape, type ShapeType } from '../shape.ts';

/** A mean with its 10 % and 90 % points. */
export const estimateShape = record({ mean: numberShape, low: numberShape, high: numberShape });
/** A name for a number and the number in words, with its unit. */
export const factShape = record({ label: textShape, text: textShape });
export type Fact = ShapeType<typeof factShape>;
/** A place on an axis. */
export const tickShape = record({ at: numberShape, label: textShape });
export type Tick = ShapeType<typeof tickShape>;
const state = oneOf('unlearned', 'learning', 'in-run');

export const techniqueNameFields = { technique: textShape, name: textShape };
/** What the week file says of a technique. */
export const techniqueStatusFields = {
  state,
  stateText: textShape,
  pinned: booleanShape,
  leftOut: booleanShape,
};
