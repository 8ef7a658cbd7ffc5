import type { Reading } from '../files/reading/reading.ts';
import { lineEnd, type TextEdit } from '../files/edit/textEdit.ts';
import { locate, type ListTree, type Path, type Place } from '../files/yaml/tree.ts';
import { contentEnd, itemStart } from './listEdits.ts';

/** What takes entries out of a log. */
export interface RemovalEdits {
  /** They do not overlap. */
  readonly edits: readonly TextEdit[];
  /** Paths of the entries that no edit is sure to take out. */
  readonly left: readonly Path[];
}

/**
 * The edits that take blocks or runs out of a log. A session that has nothing left but its start goes with them.
 *
 * @param paths of the entries, each once
 */
export function removeEntryEdits(reading: Reading, paths: readonly Path[]): RemovalEdits {
  const lists = new Map<string, { readonly path: Path; readonly items: Set<number>; readonly all: Path[] }>();
  for (const path of paths) {
    const list = path.slice(0, -1);
    const group = lists.get(list.join()) ?? { path: list, items: new Set<number>(), all: [] };
    lists.set(list.join(), group);
    group.items.add(Number(path.at(-1)));
    group.all.push(path);
  }
  const groups = [...lists.values()];
  const emptied = groups.filter(({ path, items }) => isEmptied(reading, path, items));
  const whole = removeItems(reading, ['sessions'], new Set(emptied.map(({ path }) => Number(path[1]))));
  const edits: TextEdit[] = [...(whole ?? [])];
  const left: Path[] = [];
  for (const group of groups) {
    if (whole && emptied.includes(group)) continue;
    const some = removeItems(reading, group.path, group.items);
    if (some) edits.push(...some);
    else left.push(...group.all);
  }
  return { edits, left };
}

/** Whether a session is left with nothing that somebody wrote: no notes, no comment, no block. */
function isEmptied({ text, tree }: Reading, [list, at]: Path, items: ReadonlySet<number>): boolean {
  if (list !== 'sessions' || at === undefined) return false;
  const session = locate(tree, [list, at]);
  const blocks = locate(tree, [list, at, 'blocks']).tree;
  if (session.tree?.type !== 'map' || blocks?.type !== 'list' || blocks.items.length > items.size)
    return false;
  const end = lineEnd(text, contentEnd(text, session.tree, session.shift));
  return (
    session.tree.entries.every(({ key }) => key.value === 'start' || key.value === 'blocks') &&
    !text.slice(session.value.start, end).includes('#')
  );
}

/** The edits that take items out of a list; undefined where the text is written so that none is sure to fit. */
function removeItems({ text, tree }: Reading, path: Path, gone: ReadonlySet<number>): TextEdit[] | undefined {
  if (gone.size === 0) return [];
  const place = locate(tree, path);
  if (!place.exact || place.tree?.type !== 'list') return undefined;
  const list = place.tree;
  if (gone.size === list.items.length) return emptyListEdits(text, place, list);
  return list.flow ? outOfBrackets(list, place.shift, gone) : outOfLines(text, list, place.shift, gone);
}

function emptyListEdits(text: string, { key, shift }: Place, list: ListTree): TextEdit[] | undefined {
  const starts = list.items.map((_, at) => itemStart(list, at, shift));
  const ends = list.items.map(({ value, shift: own }) => value && contentEnd(text, value, shift + own));
  const [first, end] = [starts[0], ends.at(-1)];
  if (first === undefined || end === undefined) return undefined;
  // What stands between two items is nobody's but the user's.
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
    // Before what stays, or behind it.
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
): TextEdit[] | undefined {
  const edits: TextEdit[] = [];
  for (const at of [...gone].sort((a, b) => a - b)) {
    const item = list.items[at];
    const start = itemStart(list, at, shift);
    if (!item?.value || start === undefined) return undefined;
    const lineStart = text.lastIndexOf('\n', start - 1) + 1;
    if (!/^[ \t]*-[ \t]*$/.test(text.slice(lineStart, start))) return undefined;
    const newline = text.indexOf('\n', lineEnd(text, contentEnd(text, item.value, shift + item.shift)));
    edits.push({ start: lineStart, end: newline < 0 ? text.length : newline + 1, text: '' });
  }
  return edits;
}
