import { record, textShape, type ShapeType } from '../shape.ts';
import { changeOfLookFields } from './look.ts';

/**
 * A command of the client that a code lens and other commands run: it opens the panel at the view that its argument, a
 * {@link ShowInPanel}, names.
 */
export const showInPanelCommand = 'routewright.showInPanel';
export const showInPanelShape = record({
  /** Any file of the project. */
  uri: textShape,
  ...changeOfLookFields,
});
export type ShowInPanel = ShapeType<typeof showInPanelShape>;
