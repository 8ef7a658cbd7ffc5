/** Keys and buttons that count attempts. */
import { numberShape, oneOf, orNull, record, textShape, type ShapeType } from '../shape.ts';

/** Raise it with every change to the form of what is stored or sent; data with another number are not read. */
export const practiceVersion = 1;

/** The actions that a key or a gamepad button can have. */
export const practiceActions = ['landed', 'missed', 'back', 'end'] as const;
export const practiceActionShape = oneOf(...practiceActions);
export type PracticeAction = ShapeType<typeof practiceActionShape>;

/** A key by its place on the keyboard, with its name for people. */
const key = record({ code: textShape, name: textShape });
export type BoundKey = ShapeType<typeof key>;
/** A button of a gamepad, counted from 0. */
const padButton = record({ pad: textShape, button: numberShape });
export type BoundButton = ShapeType<typeof padButton>;
export const bindingsShape = record({
  version: oneOf(practiceVersion),
  keys: record({ landed: key, missed: key, back: key, end: key }),
  pad: record({
    landed: orNull(padButton),
    missed: orNull(padButton),
    back: orNull(padButton),
    end: orNull(padButton),
  }),
});
export type Bindings = ShapeType<typeof bindingsShape>;

/** The letters of a tape. A gamepad does nothing until the person has bound its buttons. */
export const defaultBindings: Bindings = {
  version: practiceVersion,
  keys: {
    landed: { code: 'KeyL', name: 'L' },
    missed: { code: 'KeyM', name: 'M' },
    back: { code: 'Backspace', name: 'Backspace' },
    end: { code: 'KeyE', name: 'E' },
  },
  pad: { landed: null, missed: null, back: null, end: null },
};
