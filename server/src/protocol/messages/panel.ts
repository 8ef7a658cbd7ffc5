import { request } from './message.ts';
import { panelDataShape } from '../panel/panelData.ts';
import { lookFields } from '../panel/look.ts';
import { locationShape } from '../places.ts';
import { booleanShape, optional, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { fileTextShape } from '../fileText.ts';

const panelParams = record({
  /** Any file of the project. */
  uri: textShape,
  ...lookFields,
  /** False: the server answers at once with the numbers that are known, and names in `pending` those that are not. */
  wait: booleanShape,
  /** True: the answer also has the parts that take long to compute. The server stops where the request is cancelled. */
  rest: optional(booleanShape),
});
export type PanelParams = ShapeType<typeof panelParams>;

/** Client → server: what one view of the panel shows. */
export const panelRequest = request('routewright/panel', { params: panelParams, result: panelDataShape });

/** Client → server: a view as Markdown, with the numbers and the words that the panel shows. */
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
