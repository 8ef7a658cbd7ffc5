/** What every key of the five kinds of file means, from the schemas. */
import { closestWord } from '../../text/closestWord.ts';
import { type FileKind, fileKinds } from '../fileKind.ts';
import { resolve, type ResolvedSchema, type Schema, schemaOf } from './schema.ts';

/** One meaning of a key, and where it has it. */
export interface KeyMeaning {
  readonly key: string;
  readonly schema: Schema;
  /** Whether an entry without it is not complete. */
  readonly required: boolean;
  readonly places: readonly KeyPlace[];
}

export interface KeyPlace {
  readonly kind: FileKind;
  /** Keys from the top of the file to this one; `-` for an item of a list, `ID` for a key that the user chooses. */
  readonly path: readonly string[];
  /** What it says something about: the title of the entry that it stands in, or of the file. */
  readonly owner: string;
}

/**
 * The meanings of a key, in the order of the kinds of file, those that have to be there first; none where no file has
 * it. Capitals and hyphens do not count, nor does a colon behind it.
 *
 * @example
 * keyMeanings('Max-Tries:')[0].key // 'max_tries'
 */
export function keyMeanings(written: string): readonly KeyMeaning[] {
  const wanted = plainKey(written);
  return allMeanings().filter(({ key }) => key === wanted);
}

/** Every key once, in alphabetical order. */
export function allKeys(): string[] {
  return distinctKeys(allMeanings());
}

/** The keys of one kind of file, in alphabetical order. */
export function keysOf(kind: FileKind): string[] {
  return distinctKeys(allMeanings().filter(({ places }) => places.some((place) => place.kind === kind)));
}

function distinctKeys(meanings: readonly KeyMeaning[]): string[] {
  return [...new Set(meanings.map(({ key }) => key))].sort();
}

/** Keys whose spelling or title is near to what was written, the nearest first; three at most. */
export function nearbyKeys(written: string): string[] {
  const wanted = plainKey(written);
  const keys = allKeys();
  const byWord = new Map([
    ...keys.map((key) => [key, key] as const),
    ...allMeanings().map(
      ({ key, schema: { title = key } }) => [plainKey(title.replaceAll(' ', '_')), key] as const,
    ),
  ]);
  const found: string[] = [];
  for (let near = closestWord(wanted, byWord.keys()); near; near = closestWord(wanted, byWord.keys())) {
    found.push(byWord.get(near)!);
    byWord.delete(near);
  }
  const begun = keys.filter((key) => key.startsWith(wanted) || wanted.startsWith(`${key}_`));
  return [...new Set([...found, ...(wanted.length < 3 ? [] : begun)])].slice(0, 3);
}

function plainKey(written: string): string {
  return written.trim().replace(/:$/, '').toLowerCase().replaceAll('-', '_');
}

let known: readonly KeyMeaning[] | undefined;

function allMeanings(): readonly KeyMeaning[] {
  known ??= collectMeanings();
  return known;
}

function collectMeanings(): KeyMeaning[] {
  const found = new Map<string, { meaning: Omit<KeyMeaning, 'places'>; places: KeyPlace[] }>();
  const add = (key: string, place: KeyPlace, schema: Schema, required: boolean): void => {
    // What is said of it makes a meaning: the same words at several places are one.
    const said = JSON.stringify([
      key,
      schema.description,
      schema.title,
      schema.default,
      schema.type,
      required,
    ]);
    const before = found.get(said);
    if (before) before.places.push(place);
    else found.set(said, { meaning: { key, schema, required }, places: [place] });
  };
  const walk = (kind: FileKind, here: ResolvedSchema, path: readonly string[], above = ''): void => {
    const { schema, file } = here;
    const owner = schema.title?.toLowerCase() ?? above;
    for (const branch of [schema, schema.then ?? {}, schema.else ?? {}]) {
      for (const [key, written] of Object.entries(branch.properties ?? {})) {
        if (typeof written !== 'object') continue;
        const inner = resolve({ schema: written, file });
        // A branch says more about a key that stands outside of it, too.
        if (branch === schema || schema.properties?.[key] === undefined)
          add(
            key,
            { kind, path: [...path, key], owner },
            inner.schema,
            (branch.required ?? []).includes(key),
          );
        walk(kind, inner, [...path, key], owner);
      }
      if (typeof branch.additionalProperties === 'object')
        walk(kind, resolve({ schema: branch.additionalProperties, file }), [...path, 'ID'], owner);
      if (branch.items) walk(kind, resolve({ schema: branch.items, file }), [...path, '-'], owner);
    }
  };
  for (const kind of fileKinds) walk(kind, schemaOf(kind), []);
  return [...found.values()]
    .map(({ meaning, places }) => ({ ...meaning, places }))
    .sort((a, b) => compareMeanings(a, b));
}

function compareMeanings(a: KeyMeaning, b: KeyMeaning): number {
  const [here, there] = [a.places[0]!, b.places[0]!];
  return (
    fileKinds.indexOf(here.kind) - fileKinds.indexOf(there.kind) ||
    Number(b.required) - Number(a.required) ||
    here.path.length - there.path.length
  );
}

const fraction = 'a fraction from 0 to 1';

/** Words of descriptions that name a unit. */
const units: readonly (readonly [RegExp, string])[] = [
  [/\bfraction\b|\bshare\b|\bchance\b/i, fraction],
  [/\bseconds?\b/i, 'seconds'],
  [/\bminutes?\b/i, 'minutes'],
  [/\bdays\b/i, 'days'],
];

/** The unit of the numbers that a key holds; undefined for a count, a grade or a text. */
export function unitOf(schema: Schema): string | undefined {
  const { type, title = '', description = '', maximum } = schema;
  const types = typeof type === 'string' ? [type] : (type ?? []);
  if (!types.includes('number')) return undefined;
  if (types.includes('string') && schema.pattern?.includes(':') === true)
    return 'seconds, or m:ss.s or h:mm:ss.s';
  const first = description.split('. ')[0]!;
  const unit = units.find(([word]) => word.test(`${title} ${first}`))?.[1];
  return unit === fraction && maximum !== undefined && maximum > 1 ? undefined : unit;
}
