import { optional, record, textShape, type ShapeType } from './shape.ts';

/** A route, as its file is now or as it was. */
export const routeRevisionShape = record({
  /** A route file. */
  uri: textShape,
  /** A git revision; absent, the text in the editor. */
  revision: optional(textShape),
});
export type RouteRevision = ShapeType<typeof routeRevisionShape>;
