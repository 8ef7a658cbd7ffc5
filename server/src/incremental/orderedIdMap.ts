import { sameItems } from './mapIncremental.ts';

interface Identified {
  readonly id: string;
}

/**
 * A map from id to entry that keeps the order of a list; each id occurs once. Lists with the same ids in the same
 * order share one table of positions, so editing one entry among thousands does not rebuild the table.
 */
export class OrderedIdMap<T extends Identified> implements ReadonlyMap<string, T> {
  /** The entries in order. The same array object as long as no entry changes. */
  readonly list: readonly T[];
  private readonly positions: ReadonlyMap<string, number>;

  private constructor(list: readonly T[], positions: ReadonlyMap<string, number>) {
    this.list = list;
    this.positions = positions;
  }

  /**
   * The entries of several lists, one list after the other. If several entries have the same id, the first one is
   * kept. If all kept entries come from the first list, `list` is that same array object.
   *
   * @example
   * OrderedIdMap.fromLists([[{ id: 'a' }], [{ id: 'a' }, { id: 'b' }]]).size // 2
   */
  static fromLists<T extends Identified>(lists: readonly (readonly T[])[]): OrderedIdMap<T> {
    const positions = new Map<string, number>();
    const all: T[] = [];
    for (const list of lists)
      for (const one of list) {
        if (positions.has(one.id)) continue;
        positions.set(one.id, all.length);
        all.push(one);
      }
    const [first] = lists;
    return new OrderedIdMap(first && sameItems(all, first) ? first : all, positions);
  }

  /** A map with new entries for the same ids. `list` must have the same ids in the same order; this is not checked. */
  withList(list: readonly T[]): OrderedIdMap<T> {
    return new OrderedIdMap(list, this.positions);
  }

  get size(): number {
    return this.list.length;
  }

  get(id: string): T | undefined {
    const at = this.positions.get(id);
    return at === undefined ? undefined : this.list[at];
  }

  has(id: string): boolean {
    return this.positions.has(id);
  }

  keys(): MapIterator<string> {
    return this.positions.keys();
  }

  values(): MapIterator<T> {
    return this.list.values();
  }

  *entries(): MapIterator<[string, T]> {
    for (const one of this.list) yield [one.id, one];
  }

  [Symbol.iterator](): MapIterator<[string, T]> {
    return this.entries();
  }

  forEach(call: (value: T, key: string, map: ReadonlyMap<string, T>) => void): void {
    for (const one of this.list) call(one, one.id, this);
  }
}
