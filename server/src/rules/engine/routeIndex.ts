import type { Segment } from '../../files/documents/documents.ts';
import type { Defined } from '../../workspace/project.ts';
import { EntryMemory } from './entryIndex.ts';
import { KeptBeside } from './dependencyCache.ts';
import { savedAtMost } from '../lookup/maxTimeSaved.ts';

/** What the rules keep of one look at a route for the next: with it an edit costs the entries that it touches. */
export class RouteMemory {
  /** Of the documents' segments and techniques, and of the entries as they are written, finished or not. */
  readonly entries = new EntryMemory();
  /** Seconds that a segment's techniques and luck save at the most. */
  readonly saved = new KeptBeside<Defined<Segment>, number>(savedAtMost);
}

/** The memory that a context carries; one that knows nothing where it carries none. */
export function memoryOf({ memory }: { readonly memory?: RouteMemory }): RouteMemory {
  return memory ?? new RouteMemory();
}
