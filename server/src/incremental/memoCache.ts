/**
 * What was worked out before, kept with what it was worked out from.
 *
 * A value is taken from memory only where everything that it depends on is the very same as when it was made, so
 * that an answer never differs from one worked out from nothing.
 */

interface MemoEntry {
  readonly inputs: readonly unknown[];
  readonly value: unknown;
}

/** Named values, one of each name, with what each was made from. */
export class MemoCache {
  private readonly slots: Map<string, MemoEntry>;

  constructor(slots: ReadonlyMap<string, MemoEntry> = new Map()) {
    this.slots = new Map(slots);
  }

  /**
   * The value of this name, worked out anew where it was made from other things.
   *
   * @param from everything that `work` depends on: numbers and texts count by value, all else by identity
   */
  getOrCompute<T>(name: string, from: readonly unknown[], work: () => T): T {
    const known = this.slots.get(name);
    // A name always stands for values of one type: the one that `work` makes.
    if (known !== undefined && sameItems(known.inputs, from)) return known.value as T;
    const value = work();
    this.slots.set(name, { inputs: from, value });
    return value;
  }

  /**
   * The value that this name had before, if `same` finds the new one equal to it; otherwise the new one. What is
   * made from it then need not be made again.
   */
  reuseIfEqual<T>(name: string, value: T, same: (before: T, now: T) => boolean): T {
    const known = this.slots.get(name);
    if (known !== undefined && same(known.value as T, value)) return known.value as T;
    this.slots.set(name, { inputs: [], value });
    return value;
  }

  /** Puts another value in the place of one made before; nothing where there is none. */
  update<T>(name: string, change: (value: T) => T): void {
    const known = this.slots.get(name);
    if (known !== undefined) this.slots.set(name, { ...known, value: change(known.value as T) });
  }

  /** Lets go of all names but these. */
  keepOnly(names: ReadonlySet<string>): void {
    for (const name of [...this.slots.keys()]) if (!names.has(name)) this.slots.delete(name);
  }

  copy(): MemoCache {
    return new MemoCache(this.slots);
  }
}

function sameItems(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((item, i) => Object.is(item, b[i]));
}

/**
 * Kept by the caller between questions about one route: after a new block only what that block touches is worked out
 * again. Holds what all techniques share and a memory for each technique, dropping those no longer in the route.
 */
export class ModelCache {
  /** What all techniques have in common. */
  readonly shared: MemoCache;
  private readonly byTechnique: Map<string, MemoCache>;

  constructor(shared = new MemoCache(), own: ReadonlyMap<string, MemoCache> = new Map()) {
    this.shared = shared;
    this.byTechnique = new Map(own);
  }

  /** The memory of one technique. */
  forTechnique(technique: string): MemoCache {
    const known = this.byTechnique.get(technique);
    if (known !== undefined) return known;
    const memory = new MemoCache();
    this.byTechnique.set(technique, memory);
    return memory;
  }

  /** Lets go of techniques other than these. */
  keepOnly(techniques: ReadonlySet<string>): void {
    for (const id of [...this.byTechnique.keys()]) if (!techniques.has(id)) this.byTechnique.delete(id);
  }

  copy(): ModelCache {
    return new ModelCache(
      this.shared.copy(),
      new Map([...this.byTechnique].map(([id, memory]) => [id, memory.copy()])),
    );
  }
}
