/**
 * What was worked out before, kept with what it was worked out from.
 *
 * A value is taken from memory only where everything that it depends on is the very same as when it was made, so
 * that an answer never differs from one worked out from nothing.
 */

interface Slot {
  readonly from: readonly unknown[];
  readonly value: unknown;
}

/** Named values, one of each name, with what each was made from. */
export class Memory {
  private readonly slots: Map<string, Slot>;

  constructor(slots: ReadonlyMap<string, Slot> = new Map()) {
    this.slots = new Map(slots);
  }

  /**
   * The value of this name, worked out anew where it was made from other things.
   *
   * @param from everything that `work` depends on: numbers and texts count by value, all else by identity
   */
  recall<T>(name: string, from: readonly unknown[], work: () => T): T {
    const known = this.slots.get(name);
    // A name always stands for values of one type: the one that `work` makes.
    if (known !== undefined && sameItems(known.from, from)) return known.value as T;
    const value = work();
    this.slots.set(name, { from, value });
    return value;
  }

  /**
   * The value that this name had before, if `same` finds the new one equal to it; otherwise the new one. What is
   * made from it then need not be made again.
   */
  settle<T>(name: string, value: T, same: (before: T, now: T) => boolean): T {
    const known = this.slots.get(name);
    if (known !== undefined && same(known.value as T, value)) return known.value as T;
    this.slots.set(name, { from: [], value });
    return value;
  }

  /** Puts another value in the place of one made before; nothing where there is none. */
  revise<T>(name: string, change: (value: T) => T): void {
    const known = this.slots.get(name);
    if (known !== undefined) this.slots.set(name, { ...known, value: change(known.value as T) });
  }

  /** Lets go of all names but these. */
  keepOnly(names: ReadonlySet<string>): void {
    for (const name of [...this.slots.keys()]) if (!names.has(name)) this.slots.delete(name);
  }

  copy(): Memory {
    return new Memory(this.slots);
  }
}

function sameItems(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((item, i) => Object.is(item, b[i]));
}

/**
 * Kept by the caller between questions about one route: after a new block only what that block touches is worked out
 * again. Holds what all techniques share and a memory for each technique, dropping those no longer in the route.
 */
export class RankCache {
  /** What all techniques have in common. */
  readonly shared: Memory;
  private readonly own: Map<string, Memory>;

  constructor(shared = new Memory(), own: ReadonlyMap<string, Memory> = new Map()) {
    this.shared = shared;
    this.own = new Map(own);
  }

  /** The memory of one technique. */
  of(technique: string): Memory {
    const known = this.own.get(technique);
    if (known !== undefined) return known;
    const memory = new Memory();
    this.own.set(technique, memory);
    return memory;
  }

  /** Lets go of techniques other than these. */
  keepOnly(techniques: ReadonlySet<string>): void {
    for (const id of [...this.own.keys()]) if (!techniques.has(id)) this.own.delete(id);
  }

  copy(): RankCache {
    return new RankCache(
      this.shared.copy(),
      new Map([...this.own].map(([id, memory]) => [id, memory.copy()])),
    );
  }
}
