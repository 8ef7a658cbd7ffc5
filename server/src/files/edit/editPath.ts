import { readSource, type Reading } from '../reading/reading.ts';
import { entryOf, locate, type Entry, type MapTree, type Path, type Place } from '../yaml/tree.ts';
import { toValue } from '../yaml/value.ts';
import { keyToYaml } from './flowYaml.ts';
import { insertItems, wordItem } from './insertItems.ts';
import { yieldsValue } from './intendedEffect.ts';
import { indentBefore, lineEnd, lineEndingOf } from './lines.ts';
import { insertion, type TextEdit } from './textEdit.ts';
import { listLengthAt } from './valueAt.ts';

/**
 * The smallest edit that adds `key: value` to the map at a path.
 *
 * @param written the value as YAML on one line
 * @param after the new key goes behind the first of these keys that the map has; left out: behind the last entry
 * @returns undefined where the map is not there, has the key, or is written so that no small edit is sure to fit
 */
export function addKey(
  reading: Reading,
  path: Path,
  key: string,
  written: string,
  after: readonly string[] = [],
): TextEdit | undefined {
  const place = locate(reading.tree, path);
  if (!place.exact || place.tree?.type !== 'map' || entryOf(place.tree, key)) return undefined;
  const value = toValue(readSource('week', `x-v: ${written}`).tree) as Record<string, unknown>;
  const wanted = updateAtPath(toValue(reading.tree), path, (map) => ({
    ...(map as Record<string, unknown>),
    [key]: value['x-v'],
  }));
  const candidates = additions(reading.text, place, place.tree, `${keyToYaml(key)}: ${written}`, after);
  return [...candidates].find((edit) => yieldsValue(reading, [edit], wanted));
}

function* additions(
  text: string,
  place: Place,
  map: MapTree,
  line: string,
  after: readonly string[],
): Generator<TextEdit> {
  const { shift } = place;
  const [first] = map.entries;
  const last = map.entries.at(-1);
  if (!first || !last) {
    yield { ...place.value, text: `{ ${line} }` };
    return;
  }
  if (map.flow) {
    yield insertion(endOf(last, shift), `, ${line}`);
    return;
  }
  const eol = lineEndingOf(text);
  const indent = indentBefore(text, first.key.start + first.shift + shift);
  const preferred = after.map((key) => entryOf(map, key)).filter((entry) => entry !== undefined);
  // Behind a value of several lines a new key may become part of that value: another place is then tried.
  for (const entry of [...preferred, last, ...map.entries.toReversed()])
    yield insertion(lineEnd(text, endOf(entry, shift)), eol + indent + line);
}

function endOf({ key, value, shift }: Entry, outer: number): number {
  return (value ?? key).end + shift + outer;
}

/**
 * The smallest edit that adds a word to the list at a path.
 *
 * @returns undefined where there is no list, or it is written so that no small edit is sure to fit
 */
export function addToList(reading: Reading, path: Path, word: string): TextEdit | undefined {
  const length = listLengthAt(reading, path);
  if (length === undefined) return undefined;
  const wanted = updateAtPath(toValue(reading.tree), path, (list) => [...(list as unknown[]), word]);
  const edit = insertItems(reading, path, length, [wordItem(word)], 'brackets');
  return edit && yieldsValue(reading, [edit], wanted) ? edit : undefined;
}

/**
 * The edit after which the map at a path holds a number under a key. The map is added where it is missing, the key
 * where it is not there yet.
 *
 * @param afterKeys a new map goes behind the first of these keys that the file has
 * @param after the same for a new key in the map
 * @returns undefined where the file is written so that no small edit is sure to fit
 */
export function setNumber(
  reading: Reading,
  path: Path,
  key: string,
  value: number,
  { afterKeys, after }: { readonly afterKeys: readonly string[]; readonly after: readonly string[] },
): TextEdit | undefined {
  if (!locate(reading.tree, path).exact)
    return addKey(reading, path.slice(0, -1), String(path.at(-1)), `{ ${key}: ${value} }`, afterKeys);
  const place = locate(reading.tree, [...path, key]);
  if (!place.exact) return addKey(reading, path, key, String(value), after);
  const edit = { ...place.value, text: String(value) };
  const wanted = updateAtPath(toValue(reading.tree), [...path, key], () => value);
  return yieldsValue(reading, [edit], wanted) ? edit : undefined;
}

/** A copy of a value with the part at a path changed; the value itself where the path leads nowhere. */
export function updateAtPath(value: unknown, path: Path, change: (value: unknown) => unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return change(value);
  if (Array.isArray(value))
    return value.map((item: unknown, index) => (index === step ? updateAtPath(item, rest, change) : item));
  if (typeof value !== 'object' || value === null) return value;
  const map = value as Record<string, unknown>;
  return Object.fromEntries(
    Object.entries(map).map(([key, inner]) => [
      key,
      key === String(step) ? updateAtPath(inner, rest, change) : inner,
    ]),
  );
}
