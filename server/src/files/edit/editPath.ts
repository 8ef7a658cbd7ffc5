import { applyEdits } from './setListMembership.ts';
import { unreadProblemCount } from '../reading/fullyRead.ts';
import { readSource, type Reading } from '../reading/reading.ts';
import { insertion, lineEnd, quoteIfNeeded, type TextEdit } from './textEdit.ts';
import { entryOf, locate, type Entry, type MapTree, type Path, type Place } from '../yaml/tree.ts';
import { toValue } from '../yaml/value.ts';

/**
 * The smallest edit that adds `key: value` to the map at a path.
 *
 * @param written the value as it is to stand in the file, on one line
 * @param after keys behind the first of which that is there the new one is put; left out: behind the last entry
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
  const candidates = additions(reading.text, place, place.tree, `${quoteIfNeeded(key)}: ${written}`, after);
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
  const eol = text.includes('\r\n') ? '\r\n' : '\n';
  const start = first.key.start + first.shift + shift;
  const indent = text.slice(text.lastIndexOf('\n', start - 1) + 1, start).replace(/\S/g, ' ');
  const preferred = after.map((key) => entryOf(map, key)).filter((entry) => entry !== undefined);
  // Behind a value that goes on below its line a new key may fall into it: another place is then tried.
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
  const { text } = reading;
  const { tree, shift, value, exact } = locate(reading.tree, path);
  if (!exact || tree?.type !== 'list') return undefined;
  const wanted = updateAtPath(toValue(reading.tree), path, (list) => [...(list as unknown[]), word]);
  const written = quoteIfNeeded(word);
  const last = tree.items.at(-1);
  if (!last) {
    const edit = { ...value, text: `[${written}]` };
    return yieldsValue(reading, [edit], wanted) ? edit : undefined;
  }
  if (!last.value) return undefined;
  const end = last.value.end + last.shift + shift;
  const start = last.value.start + last.shift + shift;
  const eol = text.includes('\r\n') ? '\r\n' : '\n';
  const dash = /^[ \t]*/.exec(text.slice(text.lastIndexOf('\n', start - 1) + 1))![0];
  const edit = tree.flow
    ? insertion(end, `, ${written}`)
    : insertion(lineEnd(text, end), `${eol}${dash}- ${written}`);
  return yieldsValue(reading, [edit], wanted) ? edit : undefined;
}

/** A value with what stands at a path of it changed; the value itself where the path leads nowhere. */
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

/** Whether a file says exactly `wanted` after the edits, and reads without a new problem of its text. */
export function yieldsValue(reading: Reading, edits: readonly TextEdit[], wanted: unknown): boolean {
  const after = readSource(reading.kind, applyEdits(reading.text, edits), reading);
  return (
    unreadProblemCount(after) <= unreadProblemCount(reading) &&
    canonical(toValue(after.tree)) === canonical(wanted)
  );
}

/** Equal for equal values, whatever the order of their keys. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? { ...Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1))) }
      : inner,
  );
}
