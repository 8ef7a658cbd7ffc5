import { request } from './message.ts';
import { panelDataShape } from '../panel/panelData.ts';
import { objectiveShape, viewShape } from '../panel/views.ts';
import { locationShape } from '../places.ts';
import { booleanShape, optional, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { fileTextShape } from '../fileText.ts';

const panelParams = record({
  /** Any file of the project. */
  uri: textShape,
  view: viewShape,
  /** For the curve; null takes the first of the ranking. */
  technique: orNull(textShape),
  objective: objectiveShape,
  /** False: answer at once with what is known, and say in `pending` what is not. */
  wait: booleanShape,
  /** True: also what can be added, however long it takes; given up where the request is cancelled. */
  rest: optional(booleanShape),
});
export type PanelParams = ShapeType<typeof panelParams>;

/** Client → server: what one view of the panel shows. */
export const panelRequest = request('routewright/panel', { params: panelParams, result: panelDataShape });

/** Client → server: a view as Markdown, with the numbers and in the words that the panel shows. */
export const panelMarkdownRequest = request('routewright/panelMarkdown', {
  params: panelParams,
  result: fileTextShape,
});

const locateTechniqueParams = record({ uri: textShape, technique: textShape });
export type LocateTechniqueParams = ShapeType<typeof locateTechniqueParams>;
const locateTechniqueResult = orNull(locationShape);
export type LocateTechniqueResult = ShapeType<typeof locateTechniqueResult>;

/** Client → server: where a technique is defined; null where the route has none of this name. */
export const locateTechniqueRequest = request('routewright/locateTechnique', {
  params: locateTechniqueParams,
  result: locateTechniqueResult,
});
