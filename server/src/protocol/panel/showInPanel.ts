import { oneOf, orNull, record, textShape, type ShapeType } from '../shape.ts';

/** A command of the client that a lens runs: opens the panel at a view, with one {@link ShowInPanel} to say which. */
export const showInPanelCommand = 'routewright.showInPanel';
export const showInPanelShape = record({
  /** Any file of the project. */
  uri: textShape,
  view: oneOf('curve', 'run'),
  technique: orNull(textShape),
});
export type ShowInPanel = ShapeType<typeof showInPanelShape>;
