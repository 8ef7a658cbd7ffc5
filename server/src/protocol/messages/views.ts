import { fileTextShape } from '../fileText.ts';
import { request } from './message.ts';
import { refusalShape } from '../refusal.ts';
import { optional, record, textShape, unionOf, type ShapeType } from '../shape.ts';

/** A view: a Markdown text, or a sentence that says why there is none. */
export const viewResultShape = unionOf(record({ markdown: fileTextShape }), refusalShape);
export type ViewResult = ShapeType<typeof viewResultShape>;

const routeRevision = record({
  /** A route file. */
  uri: textShape,
  /** A git revision; absent, the text in the editor. */
  revision: optional(textShape),
});
export type RouteRevision = ShapeType<typeof routeRevision>;
const compareParams = record({ a: routeRevision, b: routeRevision });
export type CompareParams = ShapeType<typeof compareParams>;
/** Client → server: two routes compared, or one at two revisions. */
export const compareRequest = request('routewright/compare', {
  params: compareParams,
  result: viewResultShape,
});
