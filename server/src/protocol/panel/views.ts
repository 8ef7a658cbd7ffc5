/** The views of the panel and their choices. */
import { oneOf, textShape, type ShapeType } from '../shape.ts';

/** Raise it with every change to the form of what is stored or sent; data with another number are not read. */
export const panelVersion = 5;

export const panelViews = [
  'week',
  'ranking',
  'curve',
  'odds',
  'review',
  'progress',
  'after',
  'compare',
] as const;
export const viewShape = oneOf(...panelViews);
export type PanelView = ShapeType<typeof viewShape>;
/** The names of the views, on their tabs and on that of the panel. */
export const viewTitles: Readonly<Record<PanelView, string>> = {
  week: 'Week',
  ranking: 'Ranking',
  curve: 'Curve',
  odds: 'Odds',
  review: 'Review',
  progress: 'Progress',
  after: 'After a run',
  compare: 'Compare',
};

/** Id of a ranking's objective, one of those that the server offers; any other id means the default. */
export const objectiveShape = textShape;
/** The objective of a ranking until the person chooses another. */
export const defaultObjective = 'time';
