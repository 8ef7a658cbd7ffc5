import type { Reading } from '../files/reading/reading.ts';
import { contentEnd } from '../files/edit/insertItems.ts';
import { lineEnd } from '../files/edit/lines.ts';
import { removeItems } from '../files/edit/removeItems.ts';
import type { TextEdit } from '../files/edit/textEdit.ts';
import { locate, type Path } from '../files/yaml/tree.ts';

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
