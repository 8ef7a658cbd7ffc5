import { oneOf, orNull, record, textShape, type ShapeType } from '../shape.ts';

/**
 * A command of the client that a code lens runs: it opens the panel at the view that its argument, a {@link
 * ShowInPanel}, names.
 */
export const showInPanelCommand = 'routewright.showInPanel';
export const showInPanelShape = record({
  /** Any file of the project. */
  uri: textShape,
  view: oneOf('curve', 'run'),
  technique: orNull(textShape),
});
export type ShowInPanel = ShapeType<typeof showInPanelShape>;
