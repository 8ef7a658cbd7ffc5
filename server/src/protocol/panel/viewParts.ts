/** Parts that several views of the panel have. */
import { booleanShape, numberShape, record, textShape, type RecordType, type ShapeType } from '../shape.ts';
import { standingFields } from '../standing.ts';

/** A mean with its 10 % and 90 % points. */
export const estimateShape = record({ mean: numberShape, low: numberShape, high: numberShape });
/** A name for a number and the number in words, with its unit. */
export const factShape = record({ label: textShape, text: textShape });
export type Fact = ShapeType<typeof factShape>;
/** A place on an axis. */
export const tickShape = record({ at: numberShape, label: textShape });
export type Tick = ShapeType<typeof tickShape>;

export const techniqueNameFields = { technique: textShape, name: textShape };
/** Where a technique stands, and what the week file says of it. */
export const techniqueStatusFields = {
  ...standingFields,
  pinned: booleanShape,
  leftOut: booleanShape,
};
export type TechniqueStatus = RecordType<typeof techniqueStatusFields>;
