/** The views of the panel and their choices. */
import { oneOf, textShape, type ShapeType } from '../shape.ts';

/** Raise it with every change to the form of what is stored or sent; data with another number are not read. */
export const panelVersion = 3;

export const panelViews = ['week', 'ranking', 'curve', 'run'] as const;
export const viewShape = oneOf(...panelViews);
export type PanelView = ShapeType<typeof viewShape>;

/** Id of a ranking's objective, one of those that the server offers; any other id means the default. */
export const objectiveShape = textShape;
/** The objective of a ranking until the person chooses another. */
export const defaultObjective = 'time';
