import { parse, stringify } from 'yaml';
import { fileKindOf } from '../../server/src/files/fileKind.ts';

type Value = null | boolean | number | string | Value[] | YamlMap;
interface YamlMap {
  [key: string]: Value;
}

/** Keys under which a file has its own words, and not those of the schema: a copy gets words of its own. */
const named: ReadonlySet<string> = new Set(['techniques', 'times', 'states', 'tried', 'first', 'seen']);

/**
 * The files with everything in them several times: each copy of a segment, a technique, a session or a run speaks of the
 * copies of the others, so that what a rule finds in the files it finds in every copy.
 */
export function multiplied(
  files: Readonly<Record<string, string>>,
  copies: number,
): Readonly<Record<string, string>> {
  const texts = Object.entries(files).map(
    ([name, text]) => [name, fileKindOf(name) ? parsed(text) : text] as const,
  );
  const words = new Set(texts.flatMap(([, value]) => wordsIn(value)));
  return Object.fromEntries(
    texts.map(([name, value]) => [
      name,
      typeof value === 'string' ? value : stringify(repeated(value, words, copies)),
    ]),
  );
}

function parsed(text: string): Value {
  return parse(text, { uniqueKeys: false, logLevel: 'silent' }) as Value;
}

/** Ids that the files define: keys of `techniques`, and what stands behind `id`. */
function wordsIn(value: Value): string[] {
  if (Array.isArray(value)) return value.flatMap(wordsIn);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => [
    ...(key === 'id' && typeof inner === 'string' ? [inner] : []),
    ...(named.has(key) && typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.keys(inner)
      : []),
    ...wordsIn(inner),
  ]);
}

/** Every list and every map of named things, with its copies one behind the other. */
function repeated(file: Value, words: ReadonlySet<string>, copies: number): Value {
  if (typeof file !== 'object' || file === null || Array.isArray(file)) return file;
  const all = Array.from({ length: copies }, (_, copy) => copiedMap(file, words, copy));
  return Object.fromEntries(
    Object.keys(file).map((key): [string, Value] => {
      const values = all.map((one) => one[key]!);
      const [first] = values;
      if (Array.isArray(first)) return [key, values.flatMap((one) => (Array.isArray(one) ? one : []))];
      return [
        key,
        named.has(key) ? Object.fromEntries(values.flatMap((one) => Object.entries(one as YamlMap))) : first!,
      ];
    }),
  );
}

function copied(value: Value, words: ReadonlySet<string>, copy: number): Value {
  if (typeof value === 'string') return renamed(value, words, copy);
  if (Array.isArray(value)) return value.map((inner) => copied(inner, words, copy));
  return typeof value === 'object' && value !== null ? copiedMap(value, words, copy) : value;
}

function copiedMap(map: YamlMap, words: ReadonlySet<string>, copy: number): YamlMap {
  return Object.fromEntries(
    Object.entries(map).map(([key, inner]) => [renamed(key, words, copy), copied(inner, words, copy)]),
  );
}

/** An id, or `technique@use`, with the number of the copy; any other word as it is. */
function renamed(word: string, words: ReadonlySet<string>, copy: number): string {
  return word
    .split('@')
    .map((part) => (words.has(part) ? `${part}-${copy}` : part))
    .join('@');
}
