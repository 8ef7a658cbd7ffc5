import { addKey, addToList } from '../../files/edit/editPath.ts';
import type { TextEdit } from '../../files/edit/textEdit.ts';
import { locate } from '../../files/yaml/tree.ts';
import type { Workspace } from '../../workspace/workspace.ts';

/**
 * The edit that adds a technique's current id to its former ids, under `was`, before a rename.
 *
 * @param uri the file that defines the technique, under its current id
 * @param next the new id; where it is one of the former ids, it is removed from `was`
 * @returns undefined where the definition is written in a way that no small edit is sure to fit
 */
export function formerIdEdit(
  workspace: Workspace,
  uri: string,
  id: string,
  next: string,
): TextEdit | undefined {
  const reading = workspace.file(uri)?.reading;
  if (!reading) return undefined;
  const path = ['techniques', id];
  const { tree, shift } = locate(reading.tree, [...path, 'was']);
  if (tree?.type === 'list') {
    const back = tree.items.find(({ value }) => value?.type === 'scalar' && value.value === next);
    if (back?.value) {
      const by = shift + back.shift;
      return { start: back.value.start + by, end: back.value.end + by, text: id };
    }
  }
  return (
    addToList(reading, [...path, 'was'], id) ??
    addKey(reading, path, 'was', `[${id}]`, ['needs', 'difficulty', 'name'])
  );
}
