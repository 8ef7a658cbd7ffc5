import type { Path, Tree } from './tree.ts';

const origin = Symbol('original indices');
type Compacted = unknown[] & { [origin]?: readonly number[] };

/** Whether plain data is a map. */
export function isMap(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/**
 * Plain data of a tree. Maps have no prototype, so that no key is special. Nodes in `dropped` are left out;
 * lists close the gap and remember where each item stood (see `indexedItems`).
 */
export function toValue(tree: Tree | undefined, dropped?: ReadonlySet<Tree>): unknown {
  return buildValue(tree, dropped, new Map());
}

function buildValue(
  tree: Tree | undefined,
  dropped: ReadonlySet<Tree> | undefined,
  shared: Map<Tree, unknown>,
): unknown {
  if (!tree) return null;
  if (tree.type === 'scalar') return tree.value;
  if (tree.type === 'alias') {
    // One object for every alias of a node: an alias bomb costs no memory.
    if (!shared.has(tree.target)) shared.set(tree.target, buildValue(tree.target, dropped, shared));
    return shared.get(tree.target);
  }
  if (tree.type === 'map') {
    const map = Object.create(null) as Record<string, unknown>;
    const seen = new Set<string>();
    for (const { key, value } of tree.entries) {
      const name = String(key.value);
      // Of equal keys the first counts, even where it is left out.
      if (seen.has(name)) continue;
      seen.add(name);
      if (dropped?.has(key) || (value && dropped?.has(value))) continue;
      map[name] = buildValue(value, dropped, shared);
    }
    return map;
  }
  const kept = tree.items
    .map((item, index) => ({ ...item, index }))
    .filter(({ value }) => !value || !dropped?.has(value));
  const list = kept.map(({ value }) => buildValue(value, dropped, shared));
  if (kept.length < tree.items.length) {
    return withIndices(
      list,
      kept.map(({ index }) => index),
    );
  }
  return list;
}

/** The items of a list with the index each has in the file. */
export function indexedItems<T>(list: readonly T[] | undefined): [number, T][] {
  const indices = (list as Compacted | undefined)?.[origin];
  return (list ?? []).map((item, index) => [indices?.[index] ?? index, item]);
}

/** The index in the file of a list's item. */
export function originalIndex(list: readonly unknown[], index: number): number {
  return (list as Compacted)[origin]?.[index] ?? index;
}

/** Marks `list` as holding the items that stand at `indices` in the file. */
export function withIndices<T>(list: T[], indices: readonly number[]): T[] {
  Object.defineProperty(list, origin, { value: indices, enumerable: false });
  return list;
}

/** The value at a path (indices as in `list[i]`, not as in the file). */
export function valueAt(value: unknown, path: Path): unknown {
  let here = value;
  for (const step of path) {
    if (here === null || typeof here !== 'object') return undefined;
    here = (here as Record<string | number, unknown>)[step];
  }
  return here;
}
