/** Messages between the practice view and the editor. */
import { booleanShape, numberShape, oneOf, record, unionOf, type ShapeType } from '../shape.ts';
import { bindingsShape, practiceActionShape } from './bindings.ts';
import { practiceDataShape } from './blockView.ts';

/** Ids of the buttons that always do the same: each sends a message of its own name. */
export const plainButtons = [
  'timeOnly',
  'leaveOut',
  'next',
  'other',
  'close',
  'correct',
  'keep',
  'less',
  'more',
  'save',
] as const;

/** View → editor. */
export const practiceViewMessageShape = unionOf(
  record({ type: oneOf('ready') }),
  record({ type: oneOf('press'), press: numberShape, action: practiceActionShape }),
  record({ type: oneOf('counts'), landed: numberShape, tries: numberShape }),
  record({ type: oneOf(...plainButtons, 'pause', 'resume') }),
  record({ type: oneOf('bind'), bindings: bindingsShape }),
  record({ type: oneOf('large'), large: booleanShape }),
);
export type PracticeViewMessage = ShapeType<typeof practiceViewMessageShape>;

/** Editor → view. `answered`: the press with this number is written, or was not. */
export const practiceEditorMessageShape = unionOf(
  record({ type: oneOf('show'), data: practiceDataShape }),
  record({ type: oneOf('answered'), press: numberShape, written: booleanShape }),
);
export type PracticeEditorMessage = ShapeType<typeof practiceEditorMessageShape>;
