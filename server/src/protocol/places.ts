import { numberShape, record, textShape, type ShapeType } from './shape.ts';

/** Line and character from 0, the character in UTF-16 units. */
const positionShape = record({ line: numberShape, character: numberShape });

export const rangeShape = record({ start: positionShape, end: positionShape });
export type ProtocolRange = ShapeType<typeof rangeShape>;

export const locationShape = record({ uri: textShape, range: rangeShape });
export type ProtocolLocation = ShapeType<typeof locationShape>;
