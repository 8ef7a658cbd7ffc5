import type { Reading } from '../reading/reading.ts';
import { locate, type Path, type Place } from '../yaml/tree.ts';
import { toValue } from '../yaml/value.ts';
import { yieldsValue } from './intendedEffect.ts';
import { lineStart, nextLineStart } from './lines.ts';
import { removeItems } from './removeItems.ts';
import type { TextEdit } from './textEdit.ts';

/**
 * The smallest edit that takes the key or the item at a path out of its file, with all that stands under it.
 *
 * @returns undefined where it is not there, stands alone in its map or list, or is written so that no small edit is
 * sure to fit
 */
export function removePath(reading: Reading, path: Path): TextEdit | undefined {
  const parent = locate(reading.tree, path.slice(0, -1));
  const step = path.at(-1);
  if (!parent.exact || step === undefined) return undefined;
  const edit = removal(reading, parent, path.slice(0, -1), step);
  return edit && yieldsValue(reading, [edit], withoutPath(toValue(reading.tree), path)) ? edit : undefined;
}

function removal(
  reading: Reading,
  { tree, shift }: Place,
  path: Path,
  step: string | number,
): TextEdit | undefined {
  if (tree?.type === 'list') {
    // A map without keys, or a list without items, would not mean the same as a missing one.
    if (tree.items.length < 2 || typeof step !== 'number' || !tree.items[step]) return undefined;
    return removeItems(reading, path, new Set([step]))?.[0];
  }
  if (tree?.type !== 'map' || tree.entries.length < 2) return undefined;
  const ranges = tree.entries.map(({ key, value, shift: by }) => ({
    start: key.start + by + shift,
    end: (value ?? key).end + by + shift,
  }));
  const at = tree.entries.findIndex(({ key }) => String(key.value) === step);
  const range = ranges[at];
  if (!range) return undefined;
  return tree.flow ? flowRemoval(range, ranges[at - 1], ranges[at + 1]) : blockRemoval(reading.text, range);
}

interface Range {
  readonly start: number;
  readonly end: number;
}

/** Takes an item out of brackets, with the comma after it, or for the last item the comma before it. */
function flowRemoval(span: Range, before: Range | undefined, next: Range | undefined): TextEdit | undefined {
  if (next) return { start: span.start, end: next.start, text: '' };
  return before && { start: before.end, end: span.end, text: '' };
}

/** Takes the lines of an item out. */
function blockRemoval(text: string, { start, end }: Range): TextEdit | undefined {
  const begin = lineStart(text, start);
  const before = text.slice(begin, start);
  if (!/^[ \t]*(?:- *)?$/.test(before)) return undefined;
  // A value that is a block ends behind its last line break.
  const last = text.slice(start, end).trimEnd().length + start;
  const nextLine = nextLineStart(text, last);
  // The first key of an item shares its line with the dash: the next key moves up to it.
  if (before.includes('-')) return { start, end: nextLine + (start - begin), text: '' };
  return { start: begin, end: nextLine, text: '' };
}

/** A copy of a value without the part at a path. */
function withoutPath(value: unknown, [step, ...rest]: Path): unknown {
  if (Array.isArray(value)) {
    const items = value as unknown[];
    return rest.length === 0
      ? items.filter((_, index) => index !== step)
      : items.map((item, index) => (index === step ? withoutPath(item, rest) : item));
  }
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, inner]) =>
      key !== String(step) ? [[key, inner]] : rest.length === 0 ? [] : [[key, withoutPath(inner, rest)]],
    ),
  );
}
