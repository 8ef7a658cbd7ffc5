import { nameLookup, techniqueNamesOf } from '../../queries/names.ts';
import type { LookupContext } from './lookupContext.ts';

/** The name of a technique by its id, for sentences that people read. */
export function nameIn({ project }: LookupContext): (id: string) => string {
  return nameLookup(techniqueNamesOf(project));
}
