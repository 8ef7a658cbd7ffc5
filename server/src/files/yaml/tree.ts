import type { Span } from './problem.ts';

/**
 * A file's YAML as a tree with ranges. Offsets are relative to the piece of text a node was read from;
 * an entry's or item's `shift` moves everything below it, so that a piece that was read before can be
 * put into a new tree without touching it.
 */
export type Tree = ScalarTree | MapTree | ListTree | AliasTree;

export interface ScalarTree extends Span {
  readonly type: 'scalar';
  readonly value: string | number | boolean | null;
}

export interface MapTree extends Span {
  readonly type: 'map';
  readonly flow: boolean;
  readonly entries: readonly Entry[];
  /** For a map that may have many entries. */
  readonly keyIndex?: KeyIndex;
}

export interface Entry {
  readonly key: ScalarTree;
  /** Absent where nothing is written after the colon. */
  readonly value: Tree | undefined;
  readonly shift: number;
}

export interface ListTree extends Span {
  readonly type: 'list';
  readonly flow: boolean;
  readonly items: readonly Item[];
}

export interface Item {
  readonly value: Tree | undefined;
  readonly shift: number;
}

/** `*name`: the span is that of the alias; `target` is the node that it stands for. */
export interface AliasTree extends Span {
  readonly type: 'alias';
  readonly target: Tree;
}

export type Path = readonly (string | number)[];

/** Where a node lies, in absolute offsets. */
export interface Place {
  readonly tree: Tree | undefined;
  /** The value's span; of length 0 after the key where no value is written. */
  readonly value: Span;
  /** The key's span, for a value of a map. */
  readonly key?: Span;
  /** Add to offsets inside `tree`. */
  readonly shift: number;
  /** False where the path leads deeper than the text does; the place is then the deepest one that exists. */
  readonly exact: boolean;
}

function shiftSpan(span: Span, shift: number): Span {
  return { start: span.start + shift, end: span.end + shift };
}

/** The entry of a map by its key; the first where the key occurs twice. */
export function entryOf(tree: Tree | undefined, key: string): Entry | undefined {
  if (tree?.type !== 'map') return undefined;
  if (tree.keyIndex) return tree.keyIndex.find(tree.entries, key);
  return tree.entries.find((entry) => String(entry.key.value) === key);
}

/** What a map gets with these entries: an index of its keys, where looking through all of them would be slow. */
export function keyIndexFor(entries: readonly Entry[]): Pick<MapTree, 'keyIndex'> {
  return entries.length > maxUnindexed ? { keyIndex: new KeyIndex() } : {};
}

const maxUnindexed = 30;

/** Finds the place of a path, or the deepest place on the way to it. */
export function locate(root: Tree | undefined, path: Path): Place {
  let place: Place = {
    tree: root,
    value: root ? shiftSpan(root, 0) : { start: 0, end: 0 },
    shift: 0,
    exact: true,
  };
  for (const step of path) {
    const { tree, shift } = place;
    if (tree?.type === 'map') {
      const entry = entryOf(tree, String(step));
      if (!entry) return { ...place, exact: false };
      const inner = shift + entry.shift;
      const key = shiftSpan(entry.key, inner);
      const value = entry.value ? shiftSpan(entry.value, inner) : { start: key.end, end: key.end };
      place = { tree: entry.value, value, key, shift: inner, exact: true };
    } else if (tree?.type === 'list') {
      const item = typeof step === 'number' ? tree.items[step] : undefined;
      if (!item) return { ...place, exact: false };
      const inner = shift + item.shift;
      const value = item.value ? shiftSpan(item.value, inner) : place.value;
      place = { tree: item.value, value, shift: inner, exact: true };
    } else {
      return { ...place, exact: false };
    }
  }
  return place;
}

/**
 * The entry of a section in which an offset lies, or the key of the file with all that stands under it: from its
 * beginning to the end of its value.
 */
export function entryAround(root: MapTree, offset: number): Span | undefined {
  const outer = nodeAround(root.entries, 0, offset);
  if (!outer) return undefined;
  const { value, shift } = outer.node;
  if (!value || (value.type !== 'list' && value.type !== 'map')) return outer.span;
  const inner = nodeAround<Entry | Item>(value.type === 'list' ? value.items : value.entries, shift, offset);
  return inner ? inner.span : undefined;
}

/**
 * The node around an offset, of nodes in the order of the text: the last that begins at or before the offset, unless it
 * ends before.
 */
function nodeAround<Node extends Entry | Item>(
  nodes: readonly Node[],
  shift: number,
  offset: number,
): { readonly node: Node; readonly span: Span } | undefined {
  const spanOf = (node: Node): Span => {
    const first: Span | undefined = 'key' in node ? node.key : node.value;
    const start = first?.start ?? 0;
    return shiftSpan({ start, end: Math.max(first?.end ?? 0, node.value?.end ?? 0) }, shift + node.shift);
  };
  const node = nodes[firstAfter(nodes, offset - shift) - 1];
  const span = node && spanOf(node);
  return span && offset <= span.end ? { node, span } : undefined;
}

/** Index of the first node that begins after an offset, of nodes in the order of the text. */
function firstAfter(nodes: readonly (Entry | Item)[], offset: number): number {
  let low = 0;
  let high = nodes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    // Where an item was left out, the one before it tells.
    let told = middle;
    while (told > low && startOf(nodes[told]!) === undefined) told--;
    if ((startOf(nodes[told]!) ?? -Infinity) <= offset) low = middle + 1;
    else high = told;
  }
  return low;
}

function startOf(node: Entry | Item): number | undefined {
  const first: Span | undefined = 'key' in node ? node.key : node.value;
  return first && first.start + node.shift;
}

/**
 * The nodes that an offset may be in, with their indices: the last that begins at or before it, and those before that
 * which may end there.
 */
function nodesNear<Node extends Entry | Item>(
  nodes: readonly Node[],
  offset: number,
): (readonly [number, Node])[] {
  const end = firstAfter(nodes, offset);
  const start = Math.max(0, end - 3);
  return nodes.slice(start, end).map((node, at) => [start + at, node] as const);
}

/** What lies at an offset: the path to it, and whether the offset is on the last step's key or in its value. */
export interface Spot {
  readonly path: Path;
  readonly part: 'key' | 'value';
  readonly tree: Tree | undefined;
  readonly span: Span;
}

/** The deepest node whose span holds `offset` (ends included, so that a cursor after a word finds it). */
export function spotAt(root: Tree | undefined, offset: number): Spot | undefined {
  if (!root) return undefined;
  let spot: Spot = { path: [], part: 'value', tree: root, span: root };
  let shift = 0;
  const holds = (span: Span) => span.start + shift <= offset && offset <= span.end + shift;
  for (;;) {
    const { tree, path } = spot;
    let next: Spot | undefined;
    const outer = shift;
    if (tree?.type === 'map') {
      for (const [, entry] of nodesNear(tree.entries, offset - outer)) {
        shift = outer + entry.shift;
        const step = [...path, String(entry.key.value)];
        if (holds(entry.key)) {
          return { path: step, part: 'key', tree: entry.value, span: shiftSpan(entry.key, shift) };
        }
        if (entry.value && holds(entry.value)) {
          next = { path: step, part: 'value', tree: entry.value, span: shiftSpan(entry.value, shift) };
          break;
        }
      }
    } else if (tree?.type === 'list') {
      for (const [index, item] of nodesNear(tree.items, offset - outer)) {
        shift = outer + item.shift;
        if (item.value && holds(item.value)) {
          next = {
            path: [...path, index],
            part: 'value',
            tree: item.value,
            span: shiftSpan(item.value, shift),
          };
          break;
        }
      }
    }
    if (!next) return spot;
    spot = next;
  }
}

/** Where the keys of a long map stand, looked up once for all trees that have the same keys in the same order. */
export class KeyIndex {
  private positions: ReadonlyMap<string, number> | undefined;

  /** The entry of a key; the first where the key occurs twice. */
  find(entries: readonly Entry[], key: string): Entry | undefined {
    this.positions ??= new Map(entries.map((entry, at) => [String(entry.key.value), at] as const).reverse());
    const at = this.positions.get(key);
    return at === undefined ? undefined : entries[at];
  }
}
