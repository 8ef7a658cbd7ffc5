import { yieldsValue } from './editPath.ts';
import type { Reading } from '../reading/reading.ts';
import { lineEnd, type TextEdit } from './textEdit.ts';
import { locate, type Path } from '../yaml/tree.ts';
import { toValue } from '../yaml/value.ts';

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
  const { tree, shift } = parent;
  if (tree?.type !== 'map' && tree?.type !== 'list') return undefined;
  const spans =
    tree.type === 'map'
      ? tree.entries.map(({ key, value, shift: by }) => ({
          name: String(key.value),
          start: key.start + by + shift,
          end: (value ?? key).end + by + shift,
        }))
      : tree.items.map(({ value, shift: by }, name) => ({
          name,
          start: (value?.start ?? 0) + by + shift,
          end: (value?.end ?? 0) + by + shift,
        }));
  const at = spans.findIndex(({ name }) => name === step);
  const span = spans[at];
  // A map without keys, or a list without items, would say something else than one that is not there.
  if (!span || spans.length < 2) return undefined;
  const edit = tree.flow
    ? flowRemoval(span, spans[at - 1], spans[at + 1])
    : blockRemoval(reading.text, span, tree.type === 'map');
  return edit && yieldsValue(reading, [edit], withoutPath(toValue(reading.tree), path)) ? edit : undefined;
}

interface Range {
  readonly start: number;
  readonly end: number;
}

/** The comma after it goes with it, or for the last the one before. */
function flowRemoval(span: Range, before: Range | undefined, next: Range | undefined): TextEdit | undefined {
  if (next) return { start: span.start, end: next.start, text: '' };
  return before && { start: before.end, end: span.end, text: '' };
}

/** From the start of its first line to that of the next. */
function blockRemoval(text: string, { start, end }: Range, isKey: boolean): TextEdit | undefined {
  const lineStart = text.lastIndexOf('\n', start - 1) + 1;
  if (!/^[ \t]*(?:- *)?$/.test(text.slice(lineStart, start))) return undefined;
  const dash = text.slice(lineStart, start).indexOf('-');
  // A value that is a block ends behind its last line break.
  const last = text.slice(start, end).trimEnd().length + start;
  const stop = lineEnd(text, last);
  const newline = text.indexOf('\n', stop);
  const nextLine = newline < 0 ? text.length : newline + 1;
  // The first key of an item shares its line with the dash: the next key moves up to it.
  if (isKey && dash >= 0) return { start, end: nextLine + (start - lineStart), text: '' };
  return { start: lineStart, end: nextLine, text: '' };
}

/** A value without what stands at a path of it. */
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
