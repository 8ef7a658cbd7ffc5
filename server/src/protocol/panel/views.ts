/** What the panel can be asked to show. */
import { oneOf, textShape, type ShapeType } from '../shape.ts';

/** Raised whenever what is stored or sent changes its form; what has another number is not read. */
export const panelVersion = 2;

export const panelViews = ['week', 'ranking', 'curve', 'run'] as const;
export const viewShape = oneOf(...panelViews);
export type PanelView = ShapeType<typeof viewShape>;

/** Id of what a ranking is by, one of those that the server offers; it takes any other for the default. */
export const objectiveShape = textShape;
/** What a ranking is by until something else is chosen. */
export const defaultObjective = 'time';
