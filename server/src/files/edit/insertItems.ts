import type { Reading } from '../reading/reading.ts';
import { locate, type ListTree, type MapTree, type Path, type Place, type Tree } from '../yaml/tree.ts';
import { keyToYaml, scalarToYaml } from './flowYaml.ts';
import { lineBreakAtEnd, lineEnd, lineEndingOf, lineStart } from './lines.ts';
import { insertion, type TextEdit } from './textEdit.ts';

/** What is put into a list: on one line where the list is written in brackets, on lines of its own elsewhere. */
export interface ListItemText {
  readonly inline: string;
  /** Lines without the indent; the first goes behind a dash. */
  readonly lines: readonly string[];
}

/** A word as an item of a list. */
export function wordItem(word: string): ListItemText {
  const written = scalarToYaml(word);
  return { inline: written, lines: [written] };
}

/**
 * The edit that puts items into a list, behind its first `after` items. The result is not read again here: the caller
 * checks that the edit has its intended effect.
 *
 * @param path of the list, whose last step is a key; the key is added where it is missing
 * @param after how many of the list's items stay in front
 * @param layout of a list that has no item yet: a line for each item, or all in brackets behind the key
 * @returns undefined where the text is written in a way that no edit fits
 */
export function insertItems(
  reading: Reading,
  path: Path,
  after: number,
  items: readonly ListItemText[],
  layout: 'lines' | 'brackets' = 'lines',
): TextEdit | undefined {
  const { text, tree } = reading;
  const place = locate(tree, path);
  if (!place.exact) return newList(reading, path, items, layout);
  if (place.tree === undefined || (place.tree.type === 'scalar' && place.tree.value === null))
    return emptyList(text, place, items, layout);
  if (place.tree.type !== 'list') return undefined;
  const list = place.tree;
  if (list.items.length === 0) return emptyList(text, place, items, layout);
  if (list.flow) return insertInBrackets(list, place.shift, after, items);
  const eol = lineEndingOf(text);
  const column = columnOfDash(text, list, place.shift);
  if (column === undefined) return undefined;
  const written = items.map((item) => blockItem(item, column, eol)).join(eol);
  const before = list.items[after - 1];
  if (!before) {
    const first = itemStart(list, 0, place.shift);
    return first === undefined ? undefined : insertion(lineStart(text, first), `${written}${eol}`);
  }
  const end = before.value && contentEnd(text, before.value, place.shift + before.shift);
  return end === undefined ? undefined : insertion(lineEnd(text, end), eol + written);
}

function insertInBrackets(
  list: ListTree,
  shift: number,
  after: number,
  items: readonly ListItemText[],
): TextEdit | undefined {
  const written = inOneLine(items);
  const before = list.items[after - 1]?.value;
  if (before) return insertion(before.end + shift + list.items[after - 1]!.shift, `, ${written}`);
  const first = itemStart(list, 0, shift);
  return first === undefined ? undefined : insertion(first, `${written}, `);
}

/** The edit that puts items in place of `[]`, or behind a key without a value. */
function emptyList(
  text: string,
  place: Place,
  items: readonly ListItemText[],
  layout: 'lines' | 'brackets',
): TextEdit | undefined {
  if (!place.key) return undefined;
  const eol = lineEndingOf(text);
  const colon = text.indexOf(':', place.key.end);
  if (colon < 0) return undefined;
  const { start, end } = place.tree ? place.value : { start: colon + 1, end: colon + 1 };
  const before = text.slice(lineStart(text, place.key.start), place.key.start);
  // Inside braces everything stays on the line.
  if (layout === 'brackets' || !/^[ \t]*(?:- +)*$/.test(before))
    return { start, end, text: `${place.tree ? '' : ' '}[${inOneLine(items)}]` };
  const written = items.map((item) => eol + blockItem(item, before.length + 2, eol)).join('');
  const rest = text.slice(end, lineEnd(text, end));
  // A comment on the key's line stays there.
  return /^[ \t]*(?:#|$)/.test(rest)
    ? { start: colon + 1, end: lineEnd(text, end), text: rest.trimEnd() + written }
    : undefined;
}

function newList(
  { text, tree }: Reading,
  path: Path,
  items: readonly ListItemText[],
  layout: 'lines' | 'brackets',
): TextEdit | undefined {
  const key = keyToYaml(String(path.at(-1)));
  const outer = locate(tree, path.slice(0, -1));
  const map = outer.exact ? outer.tree : undefined;
  if (map?.type !== 'map') return undefined;
  const eol = lineEndingOf(text);
  const last = map.entries.at(-1);
  const inline = `${key}: [${inOneLine(items)}]`;
  if (map.flow)
    return last && insertion((last.value ?? last.key).end + last.shift + outer.shift, `, ${inline}`);
  const column = columnOf(text, map, outer.shift);
  const lines =
    layout === 'brackets' ? [inline] : [`${key}:`, ...items.map((item) => blockItem(item, column + 2, eol))];
  const written = ' '.repeat(column) + lines.join(eol);
  if (path.length === 1) return insertion(text.length, lineBreakAtEnd(text) + written + eol);
  const end = contentEnd(text, map, outer.shift);
  return insertion(lineEnd(text, end), eol + written);
}

function inOneLine(items: readonly ListItemText[]): string {
  return items.map(({ inline }) => inline).join(', ');
}

function blockItem({ lines }: ListItemText, column: number, eol: string): string {
  return lines
    .map((line, at) => (line === '' ? '' : `${' '.repeat(column)}${at === 0 ? '- ' : '  '}${line}`))
    .join(eol);
}

/** Where an item of a list begins; undefined where the item is empty. */
export function itemStart(list: ListTree, at: number, shift: number): number | undefined {
  const item = list.items[at];
  return item?.value && item.value.start + shift + item.shift;
}

/** The column of a block list's dashes. */
function columnOfDash(text: string, list: ListTree, shift: number): number | undefined {
  const start = itemStart(list, 0, shift);
  if (start === undefined) return undefined;
  const dash = text.lastIndexOf('-', start - 1);
  return dash < 0 ? undefined : dash - lineStart(text, dash);
}

function columnOf(text: string, map: MapTree, shift: number): number {
  const first = map.entries[0];
  if (!first) return 0;
  const start = first.key.start + shift + first.shift;
  // A byte-order mark takes no column.
  return start - Math.max(lineStart(text, start), text.startsWith('\uFEFF') ? 1 : 0);
}

/** Where the text of a node ends, without the line feeds behind it. */
export function contentEnd(text: string, tree: Tree, shift: number): number {
  let end = tree.end + shift;
  if (tree.type === 'map' && !tree.flow) {
    const last = tree.entries.at(-1);
    if (last) end = contentEnd(text, last.value ?? last.key, shift + last.shift);
  } else if (tree.type === 'list' && !tree.flow) {
    const last = tree.items.at(-1);
    if (last?.value) end = contentEnd(text, last.value, shift + last.shift);
  }
  while (end > 0 && /\s/.test(text[end - 1]!)) end -= 1;
  return end;
}
