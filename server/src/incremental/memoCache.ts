import type { Steps } from './steps.ts';

interface MemoEntry {
  readonly inputs: readonly unknown[];
  readonly value: unknown;
}

/**
 * Computed values, one under each name, each kept with the inputs it was computed from. A kept value is returned
 * only if every input is identical to the input it was computed from, so a result never differs from one computed
 * without a cache.
 *
 * @example
 * const cache = new MemoCache();
 * cache.getOrCompute('sum', [1, 2], () => 1 + 2) // 3
 * cache.getOrCompute('sum', [1, 2], () => 99) // 3
 * cache.getOrCompute('sum', [2, 2], () => 4) // 4
 */
export class MemoCache {
  private readonly entries: Map<string, MemoEntry>;

  constructor(entries: ReadonlyMap<string, MemoEntry> = new Map()) {
    this.entries = new Map(entries);
  }

  /**
   * The value under this name. It is computed again if any input has changed since the last call.
   *
   * @param inputs everything that `compute` depends on: numbers and texts are compared by value, all else by
   * identity
   */
  getOrCompute<T>(name: string, inputs: readonly unknown[], compute: () => T): T {
    const entry = this.entries.get(name);
    // Each name is used for one type of value only, the type that `compute` returns.
    if (entry !== undefined && sameInputs(entry.inputs, inputs)) return entry.value as T;
    const value = compute();
    this.entries.set(name, { inputs, value });
    return value;
  }

  /** Like {@link getOrCompute}, for a value that is computed in steps. Where the caller stops early, nothing is kept. */
  *getOrComputeInSteps<T>(name: string, inputs: readonly unknown[], compute: () => Steps<T>): Steps<T> {
    const entry = this.entries.get(name);
    if (entry !== undefined && sameInputs(entry.inputs, inputs)) return entry.value as T;
    const value = yield* compute();
    this.entries.set(name, { inputs, value });
    return value;
  }

  /**
   * Returns the previous value under this name if `same` says that the new value equals it; otherwise stores and
   * returns the new value. Returning the previous object lets values computed from it see an unchanged input.
   */
  reuseIfEqual<T>(name: string, value: T, same: (before: T, now: T) => boolean): T {
    const entry = this.entries.get(name);
    if (entry !== undefined && same(entry.value as T, value)) return entry.value as T;
    this.entries.set(name, { inputs: [], value });
    return value;
  }

  /** Replaces the value under a name and keeps its inputs. Does nothing if the name has no value. */
  update<T>(name: string, change: (value: T) => T): void {
    const entry = this.entries.get(name);
    if (entry !== undefined) this.entries.set(name, { ...entry, value: change(entry.value as T) });
  }

  /** Deletes all names except these. */
  keepOnly(names: ReadonlySet<string>): void {
    for (const name of [...this.entries.keys()]) if (!names.has(name)) this.entries.delete(name);
  }

  /** A new cache with the same values. Later changes to one do not affect the other. */
  copy(): MemoCache {
    return new MemoCache(this.entries);
  }
}

/** Unlike `sameItems`, treats NaN as equal to NaN, because an input can be NaN. */
function sameInputs(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((item, i) => Object.is(item, b[i]));
}
