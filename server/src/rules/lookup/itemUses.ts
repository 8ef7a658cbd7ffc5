import type { Segment, Use } from '../../files/documents/documents.ts';
import { routeIndexOf } from './routeIndex.ts';
import type { LookupContext } from './lookupContext.ts';

/** The uses that take an item or are tried with one, of the route's own segments in the order of the run. */
export function itemUses(context: LookupContext): readonly Use[] {
  return routeIndexOf(context).entries.collect(context.project.route.document.segments, usesWithItems);
}

function usesWithItems({ uses }: Segment): Use[] {
  return uses.filter((use) => use.take !== undefined || use.with !== undefined);
}
