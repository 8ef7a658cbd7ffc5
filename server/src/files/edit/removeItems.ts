import type { Reading } from '../reading/reading.ts';
import { locate, type ListTree, type Path, type Place } from '../yaml/tree.ts';
import { contentEnd, itemStart } from './insertItems.ts';
import { lineEnd, lineStart, nextLineStart } from './lines.ts';
import type { TextEdit } from './textEdit.ts';

/**
 * The edits that take items out of a list. The result is not read again here: the caller checks that the edits have
 * their intended effect.
 *
 * @param path of the list
 * @param gone indices of the items to take out
 * @param comments whether a comment behind an item goes with it or stays, on a line of its own
 * @returns edits that do not overlap; undefined where the text is written so that none is sure to fit
 */
export function removeItems(
  { text, tree }: Reading,
  path: Path,
  gone: ReadonlySet<number>,
  comments: 'remove' | 'keep' = 'remove',
): TextEdit[] | undefined {
  if (gone.size === 0) return [];
  const place = locate(tree, path);
  if (!place.exact || place.tree?.type !== 'list') return undefined;
  const list = place.tree;
  const emptied = gone.size === list.items.length;
  const edits = emptied ? emptyListEdits(text, place, list) : undefined;
  // With a comment between the key and its items `[]` is not possible: the key then stays without a value, with the
  // comment.
  if (edits || (emptied && (list.flow || comments === 'remove'))) return edits;
  return list.flow
    ? outOfBrackets(list, place.shift, gone)
    : outOfLines(text, list, place.shift, gone, comments === 'keep');
}

function emptyListEdits(text: string, { key, shift }: Place, list: ListTree): TextEdit[] | undefined {
  const starts = list.items.map((_, at) => itemStart(list, at, shift));
  const ends = list.items.map(({ value, shift: own }) => value && contentEnd(text, value, shift + own));
  const [first, end] = [starts[0], ends.at(-1)];
  if (first === undefined || end === undefined) return undefined;
  // A comment between two items is the user's and must stay.
  const between = starts.some((start, at) => at > 0 && text.slice(ends[at - 1], start).includes('#'));
  if (between) return undefined;
  if (list.flow) return [{ start: first, end, text: '' }];
  const colon = key ? text.indexOf(':', key.end) : -1;
  if (colon < 0 || text.slice(colon + 1, first).includes('#')) return undefined;
  return [{ start: colon + 1, end, text: ' []' }];
}

function outOfBrackets(list: ListTree, shift: number, gone: ReadonlySet<number>): TextEdit[] | undefined {
  const edits: TextEdit[] = [];
  for (let from = 0; from < list.items.length; from++) {
    if (!gone.has(from)) continue;
    let to = from;
    while (gone.has(to + 1)) to += 1;
    const next = itemStart(list, to + 1, shift);
    const [before, last] = [list.items[from - 1], list.items[to]];
    // The items are taken out up to the next item that stays; the last ones, from the end of the item before them.
    const start =
      next === undefined
        ? before?.value && before.value.end + shift + before.shift
        : itemStart(list, from, shift);
    const end = next ?? (last?.value && last.value.end + shift + last.shift);
    if (start === undefined || end === undefined) return undefined;
    edits.push({ start, end, text: '' });
    from = to;
  }
  return edits;
}

function outOfLines(
  text: string,
  list: ListTree,
  shift: number,
  gone: ReadonlySet<number>,
  keepComments: boolean,
): TextEdit[] | undefined {
  const edits: TextEdit[] = [];
  for (const at of [...gone].sort((a, b) => a - b)) {
    const item = list.items[at];
    const start = itemStart(list, at, shift);
    if (!item?.value || start === undefined) return undefined;
    const begin = lineStart(text, start);
    if (!/^[ \t]*-[ \t]*$/.test(text.slice(begin, start))) return undefined;
    const end = contentEnd(text, item.value, shift + item.shift);
    const comment = keepComments ? text.slice(end, lineEnd(text, end)).indexOf('#') : -1;
    edits.push(
      comment < 0
        ? { start: begin, end: nextLineStart(text, end), text: '' }
        : { start: text.lastIndexOf('-', start), end: end + comment, text: '' },
    );
  }
  return edits;
}
