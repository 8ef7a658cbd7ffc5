import type { CheckedEntry } from '../schema/checkFile.ts';
import { differenceOf, spliced } from '../../incremental/mapIncremental.ts';
import type { Reading } from '../yaml/reading.ts';

interface Made<T> {
  readonly from: readonly CheckedEntry[];
  /** One for each entry; undefined where nothing could be made of it. */
  readonly to: readonly (T | undefined)[];
  readonly kept: readonly T[];
}

/**
 * What was made of each entry of a section. An entry that did not change is the same object as after the reading
 * before, and a list in which none did is the same list.
 */
export class MadeEntries<T> {
  private readonly made = new WeakMap<Reading, Made<T>>();
  private readonly section: string;
  private readonly make: (value: unknown, at: string | number) => T | undefined;

  /**
   * @param section its key
   * @param make what an entry's value means, given its key or its index
   */
  constructor(section: string, make: (value: unknown, at: string | number) => T | undefined) {
    this.section = section;
    this.make = make;
  }

  /** @param previous the reading of the same file before */
  of(reading: Reading, previous?: Reading): readonly T[] {
    const kept = this.made.get(reading);
    if (kept) return kept.kept;
    const made = this.madeOf(reading, previous && this.made.get(previous));
    this.made.set(reading, made);
    return made.kept;
  }

  private madeOf(reading: Reading, before: Made<T> | undefined): Made<T> {
    const from = reading.sections.get(this.section)?.entries ?? [];
    if (before?.from === from) return before;
    const difference = differenceOf(before?.from ?? [], from);
    // What stands in a list knows its index.
    const moved = from.length !== before?.from.length && from.some(({ name }) => name === undefined);
    const {
      from: first,
      was,
      is,
    } = moved ? { ...difference, was: before?.from.length ?? 0, is: from.length } : difference;
    const fresh = from
      .slice(first, is)
      .map(({ name, value }, at) => (value === undefined ? undefined : this.make(value, name ?? first + at)));
    const to = spliced(before?.to ?? [], { from: first, was, is }, fresh);
    const kept = to.includes(undefined) ? to.filter((one) => one !== undefined) : (to as readonly T[]);
    return { from, to, kept };
  }
}
