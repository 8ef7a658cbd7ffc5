import {
  mapIncremental,
  findChangedRange,
  sameItems,
  type MappedList,
} from '../../incremental/mapIncremental.ts';
import { MemoCache } from '../../incremental/memoCache.ts';
import { NameCounts } from './nameCounts.ts';

interface CollectedItems extends MappedList<unknown, readonly unknown[]> {
  readonly all: readonly unknown[];
}

interface CountedNames {
  readonly from: readonly unknown[];
  readonly tally: NameCounts;
}

/**
 * What rules collect from a route's entries, and how often names occur in them. Results are kept by the function that
 * collects, so that an edit costs only the entries that it touches. Each function belongs to one list of entries.
 */
export class EntryIndex {
  private readonly picks = new Map<unknown, CollectedItems>();
  private readonly tallies = new Map<unknown, CountedNames>();
  private readonly memo = new MemoCache();

  /** What `choose` finds in the entries, in their order; the very same list where nothing of it changed. */
  collect<E, T>(entries: readonly E[], choose: (entry: E) => readonly T[]): readonly T[] {
    const before = this.picks.get(choose);
    const { inputs: from, outputs: to } = mapIncremental(
      before as MappedList<E, readonly T[]> | undefined,
      entries,
      choose,
    );
    const all = to === before?.outputs ? before.all : reuseIfSameItems(before?.all, flatten(to));
    this.picks.set(choose, { inputs: from, outputs: to, all });
    return all as readonly T[];
  }

  /** A named value computed from whole lists or from other results, kept as `MemoCache.getOrCompute` keeps it. */
  getOrCompute<T>(name: string, inputs: readonly unknown[], compute: () => T): T {
    return this.memo.getOrCompute(name, inputs, compute);
  }

  /** How often the names occur that `namesIn` finds in the entries. Valid until the next call. */
  countNames<E>(entries: readonly E[], namesIn: (entry: E) => readonly string[]): NameCounts {
    const before = this.tallies.get(namesIn) ?? { from: [], tally: new NameCounts() };
    const { tally } = before;
    if (before.from !== entries) {
      const from = before.from as readonly E[];
      const changed = findChangedRange(from, entries);
      // Additions first, so that the count of a name that stays never falls to 0 in between.
      for (let at = changed.start; at < changed.newEnd; at++)
        for (const name of namesIn(entries[at]!)) tally.add(name);
      for (let at = changed.start; at < changed.oldEnd; at++)
        for (const name of namesIn(from[at]!)) tally.remove(name);
      this.tallies.set(namesIn, { from: entries, tally });
    }
    return tally;
  }
}

/** Lists after each other; most are empty. */
function flatten<T>(lists: readonly (readonly T[])[]): T[] {
  const all: T[] = [];
  for (const list of lists) if (list.length > 0) for (const one of list) all.push(one);
  return all;
}

function reuseIfSameItems(
  before: readonly unknown[] | undefined,
  now: readonly unknown[],
): readonly unknown[] {
  return before && sameItems(before, now) ? before : now;
}
