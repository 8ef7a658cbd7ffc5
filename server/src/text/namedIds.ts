import { closestWord } from './closestWord.ts';
import { formatList } from './format.ts';
import { nameKey } from './nameKey.ts';

/** Something with an id that people call by its name. */
interface Named {
  readonly id: string;
  readonly name?: string | undefined;
}

/** A name or an id, as `nameKey` spells it → the ids of what is called so. */
export type IdsByName = Readonly<Record<string, readonly string[]>>;

/** The ids by everything that they may be called: by name and by id. */
export function idsByName(named: readonly Named[]): IdsByName {
  const ids = new Map<string, Set<string>>();
  for (const { id, name = id } of named)
    for (const called of [id, name])
      ids.set(nameKey(called), (ids.get(nameKey(called)) ?? new Set()).add(id));
  return Object.fromEntries([...ids].map(([key, of]) => [key, [...of]]));
}

/** The ids of all that are called so; none where nothing is. */
export function idsCalled(written: string, byName: IdsByName): readonly string[] {
  const key = nameKey(written);
  return Object.hasOwn(byName, key) ? byName[key]! : [];
}

/** The id of what is called so; undefined where nothing is, or several. */
export function idCalled(written: string, byName: IdsByName): string | undefined {
  const [id, ...others] = idsCalled(written, byName);
  return others.length === 0 ? id : undefined;
}

/** The id of what was most likely meant by a name that nothing has; undefined where none is near enough. */
export function closestId(written: string, byName: IdsByName): string | undefined {
  const name = closestWord(nameKey(written), Object.keys(byName));
  return name === undefined ? undefined : byName[name]![0];
}

/** What to do about a name that several have: a sentence; undefined where not several are called so. */
export function severalCalled(
  what: 'segment' | 'technique',
  written: string,
  byName: IdsByName,
): string | undefined {
  const ids = idsCalled(written, byName);
  if (ids.length < 2) return undefined;
  return `Several ${what}s are called ${written}: ${formatList(ids)}. Write the id of the one that is meant.`;
}
