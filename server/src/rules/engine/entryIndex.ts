import { carried, differenceOf, sameItems, type Made } from '../../incremental/mapIncremental.ts';
import { Tally } from '../lookup/nameCounts.ts';

interface Picked extends Made<unknown, readonly unknown[]> {
  readonly all: readonly unknown[];
}

interface Tallied {
  readonly from: readonly unknown[];
  readonly tally: Tally;
}

/**
 * What rules picked out of a route's entries and how often names occur in them, kept under the function that says so:
 * an edit then costs the entries that it touches. Each function belongs to one list of entries.
 */
export class EntryMemory {
  private readonly picks = new Map<unknown, Picked>();
  private readonly tallies = new Map<unknown, Tallied>();
  private readonly kept = new Map<string, { readonly from: readonly unknown[]; readonly value: unknown }>();

  /** What `choose` finds in the entries, in their order; the very same list where nothing of it changed. */
  pick<E, T>(entries: readonly E[], choose: (entry: E) => readonly T[]): readonly T[] {
    const before = this.picks.get(choose);
    const { from, to } = carried(before as Made<E, readonly T[]> | undefined, entries, choose);
    const all = to === before?.to ? before.all : unchanged(before?.all, flat(to));
    this.picks.set(choose, { from, to, all });
    return all as readonly T[];
  }

  /**
   * What `make` gives, kept under a name for as long as all that it comes from is the very same.
   *
   * @param from what it comes from
   */
  once<T>(name: string, from: readonly unknown[], make: () => T): T {
    const before = this.kept.get(name);
    if (before && sameItems(before.from, from)) return before.value as T;
    const value = make();
    this.kept.set(name, { from, value });
    return value;
  }

  /** How often the names occur that `namesIn` finds in the entries. Good until the next question of this kind. */
  tally<E>(entries: readonly E[], namesIn: (entry: E) => readonly string[]): Tally {
    const before = this.tallies.get(namesIn) ?? { from: [], tally: new Tally() };
    const { tally } = before;
    if (before.from !== entries) {
      const from = before.from as readonly E[];
      const difference = differenceOf(from, entries);
      // First what is new: a name that stays is then never gone in between.
      for (let at = difference.from; at < difference.is; at++)
        for (const name of namesIn(entries[at]!)) tally.add(name);
      for (let at = difference.from; at < difference.was; at++)
        for (const name of namesIn(from[at]!)) tally.take(name);
      this.tallies.set(namesIn, { from: entries, tally });
    }
    return tally;
  }
}

/** Lists after each other; most are empty. */
function flat<T>(lists: readonly (readonly T[])[]): T[] {
  const all: T[] = [];
  for (const list of lists) if (list.length > 0) for (const one of list) all.push(one);
  return all;
}

function unchanged(before: readonly unknown[] | undefined, now: readonly unknown[]): readonly unknown[] {
  return before && sameItems(before, now) ? before : now;
}
