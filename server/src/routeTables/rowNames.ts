/** What is wrong with a name by which a row of a table speaks of a segment or a technique. */
import { closestId, idsCalled, type IdsByName, severalCalled } from '../text/namedIds.ts';

/** Whether a name may stand for one of these, and is not simply missing. */
export function isNear(name: string, ids: IdsByName): boolean {
  return idsCalled(name, ids).length > 0 || closestId(name, ids) !== undefined;
}

/** A sentence about a name that stands for none of these, or for several. */
export function unknownName(what: 'segment' | 'technique', name: string, ids: IdsByName): string {
  const several = severalCalled(what, name, ids);
  if (several !== undefined) return several;
  const meant = closestId(name, ids);
  if (meant !== undefined) return `No ${what} is called ${name}. Did you mean ${meant}?`;
  const need = what === 'segment' ? 'its time' : 'its difficulty and what it saves';
  return `No ${what} is called ${name}. Add it to a table of ${what}s with ${need}.`;
}
