/** The names by which the rows of tables speak of segments and techniques. */
import { closestWord } from '../text/closestWord.ts';
import { nameKey } from '../text/nameKey.ts';
import type { KnownPart } from './routeParts.ts';

/** By name and by id, as `nameKey` spells them: the id, or undefined where several are called so. */
export function idsByName(parts: readonly KnownPart[]): ReadonlyMap<string, string | undefined> {
  const ids = new Map<string, string | undefined>();
  for (const { id, name } of parts)
    for (const key of new Set([nameKey(id), nameKey(name ?? id)]))
      ids.set(key, ids.has(key) && ids.get(key) !== id ? undefined : id);
  return ids;
}

/** Whether a name may stand for one of these, and is not simply missing. */
export function isNear(name: string, ids: ReadonlyMap<string, string | undefined>): boolean {
  return ids.has(nameKey(name)) || closestWord(nameKey(name), ids.keys()) !== undefined;
}

export function unknownName(
  what: 'segment' | 'technique',
  name: string,
  ids: ReadonlyMap<string, string | undefined>,
): string {
  if (ids.has(nameKey(name)))
    return `Several ${what}s are called ${name}. Write the id of the one that is meant.`;
  const meant = closestWord(nameKey(name), ids.keys());
  if (meant !== undefined) return `No ${what} is called ${name}. Is ${ids.get(meant) ?? meant} meant?`;
  const need = what === 'segment' ? 'its time' : 'its difficulty and what it saves';
  return `No ${what} is called ${name}. Add it to a table of ${what}s with ${need}.`;
}
