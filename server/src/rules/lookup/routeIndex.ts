import type { Segment } from '../../files/documents/documents.ts';
import type { WithUri } from '../../workspace/project.ts';
import { EntryIndex } from './entryIndex.ts';
import { DependencyCache } from './dependencyCache.ts';
import { maxTimeSaved } from './maxTimeSaved.ts';

/**
 * What the rules keep from one check of a route for the next, so that an edit costs only the entries that it touches.
 */
export class RouteIndex {
  /** Of the documents' segments and techniques, and of the entries as they are written, finished or not. */
  readonly entries = new EntryIndex();
  /** Seconds that a segment's techniques and luck save at the most. */
  readonly maxTimeSaved = new DependencyCache<WithUri<Segment>, number>(maxTimeSaved);
}

/** The index in a context; an empty one where it has none. */
export function routeIndexOf({ routeIndex }: { readonly routeIndex?: RouteIndex }): RouteIndex {
  return routeIndex ?? new RouteIndex();
}
