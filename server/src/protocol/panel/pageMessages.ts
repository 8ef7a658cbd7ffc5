/** Messages between the panel and the editor, and what the panel stores. */
import {
  numberShape,
  oneOf,
  orNull,
  record,
  textShape,
  textUpTo,
  unionOf,
  type ShapeType,
} from '../shape.ts';
import { changeOfLookFields, lookFields } from './look.ts';
import { panelVersion } from './views.ts';
import { panelDataShape } from './panelData.ts';
import { remedyShape } from './remedies.ts';

/** The changes that a button of the panel makes to a technique's entries in the week file. */
export const panelChangeShape = oneOf('pin', 'unpin', 'leave-out', 'take-back', 'learning');
export type PanelChange = ShapeType<typeof panelChangeShape>;

/** What is stored of a panel between two starts of the editor. */
export const storedPanelStateShape = record({
  version: oneOf(panelVersion),
  uri: textShape,
  ...lookFields,
  /** Pixels that the page was scrolled down. */
  scroll: numberShape,
});
export type StoredPanelState = ShapeType<typeof storedPanelStateShape>;

/** Largest drawing that is saved, in UTF-16 units. */
const maxDrawingLength = 4_000_000;

/** Panel → editor. */
export const panelViewMessageShape = unionOf(
  record({ type: oneOf('ready'), stored: orNull(storedPanelStateShape) }),
  record({ type: oneOf('look'), ...lookFields }),
  record({ type: oneOf('change'), change: panelChangeShape, technique: textShape }),
  record({ type: oneOf('swap'), technique: textShape, instead: textShape }),
  record({ type: oneOf('open'), technique: textShape }),
  record({ type: oneOf('practise'), technique: textShape }),
  record({ type: oneOf('remedy'), remedy: remedyShape }),
  record({ type: oneOf('copy') }),
  record({ type: oneOf('calendar') }),
  // To the text that cannot be read: the editor knows its place.
  record({ type: oneOf('mend') }),
  record({ type: oneOf('save'), name: textShape, drawing: textUpTo(maxDrawingLength) }),
);
export type PanelViewMessage = ShapeType<typeof panelViewMessageShape>;

/** Editor → panel. */
export const panelEditorMessageShape = unionOf(
  record({ type: oneOf('show'), data: panelDataShape }),
  record({ type: oneOf('said'), text: textShape }),
  record({ type: oneOf('look'), ...changeOfLookFields }),
);
export type PanelEditorMessage = ShapeType<typeof panelEditorMessageShape>;
