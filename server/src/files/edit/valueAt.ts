import type { Reading } from '../reading/reading.ts';
import { locate, type Path } from '../yaml/tree.ts';

/** The word or number at a path, as text; undefined where something else stands there or nothing. */
export function scalarTextAt({ tree }: Reading, path: Path): string | undefined {
  const place = locate(tree, path);
  if (!place.exact || place.tree?.type !== 'scalar') return undefined;
  const { value } = place.tree;
  return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : undefined;
}

/** How many items the list at a path has; undefined where there is no list. */
export function listLengthAt({ tree }: Reading, path: Path): number | undefined {
  const place = locate(tree, path);
  return place.exact && place.tree?.type === 'list' ? place.tree.items.length : undefined;
}
