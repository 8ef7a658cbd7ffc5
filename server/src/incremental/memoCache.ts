interface MemoEntry {
  readonly inputs: readonly unknown[];
  readonly value: unknown;
}

/**
 * Named values, one for each name, each kept with its inputs. A kept value is given again only where every input is the
 * very same as when it was computed, so that an answer never differs from one computed from nothing.
 *
 * @example
 * const cache = new MemoCache();
 * cache.getOrCompute('sum', [1, 2], () => 1 + 2) // 3
 * cache.getOrCompute('sum', [1, 2], () => 99) // 3
 * cache.getOrCompute('sum', [2, 2], () => 4) // 4
 */
export class MemoCache {
  private readonly slots: Map<string, MemoEntry>;

  constructor(slots: ReadonlyMap<string, MemoEntry> = new Map()) {
    this.slots = new Map(slots);
  }

  /**
   * The value of this name, computed again where its inputs are others than last time.
   *
   * @param inputs everything that `compute` depends on: numbers and texts are compared by value, all else by identity
   */
  getOrCompute<T>(name: string, inputs: readonly unknown[], compute: () => T): T {
    const known = this.slots.get(name);
    // A name always stands for values of one type: the one that `compute` returns.
    if (known !== undefined && sameInputs(known.inputs, inputs)) return known.value as T;
    const value = compute();
    this.slots.set(name, { inputs, value });
    return value;
  }

  /**
   * The value that this name had before, where `same` finds the new one equal to it; otherwise the new one. Whatever
   * is computed from the value then finds its input unchanged.
   */
  reuseIfEqual<T>(name: string, value: T, same: (before: T, now: T) => boolean): T {
    const known = this.slots.get(name);
    if (known !== undefined && same(known.value as T, value)) return known.value as T;
    this.slots.set(name, { inputs: [], value });
    return value;
  }

  /** Replaces the value of a name, keeping its inputs; does nothing where the name has no value. */
  update<T>(name: string, change: (value: T) => T): void {
    const known = this.slots.get(name);
    if (known !== undefined) this.slots.set(name, { ...known, value: change(known.value as T) });
  }

  /** Forgets all names but these. */
  keepOnly(names: ReadonlySet<string>): void {
    for (const name of [...this.slots.keys()]) if (!names.has(name)) this.slots.delete(name);
  }

  /** A cache that starts with the same values; what is added to one is not in the other. */
  copy(): MemoCache {
    return new MemoCache(this.slots);
  }
}

/** Unlike `sameItems` it takes NaN for the same as NaN: an input may be one. */
function sameInputs(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((item, i) => Object.is(item, b[i]));
}
