import type { CheckedEntry } from '../schema/checkFile.ts';
import { findChangedRange, replaceChangedRange } from '../../incremental/mapIncremental.ts';
import type { Reading } from '../reading/reading.ts';

interface MappedEntries<T> {
  readonly entries: readonly CheckedEntry[];
  /** One for each entry; undefined where the entry gives no value. */
  readonly values: readonly (T | undefined)[];
  readonly kept: readonly T[];
}

/**
 * Turns each entry of a section into a value. An entry that did not change gives the same object as after the previous
 * reading, and a list without changes is the same list.
 */
export class EntryMapper<T> {
  private readonly mapped = new WeakMap<Reading, MappedEntries<T>>();
  private readonly section: string;
  private readonly make: (value: unknown, at: string | number) => T | undefined;

  /**
   * @param section its key
   * @param make gives the value of an entry, from what it says and its key or index
   */
  constructor(section: string, make: (value: unknown, at: string | number) => T | undefined) {
    this.section = section;
    this.make = make;
  }

  /** @param previous the reading of the same file before */
  map(reading: Reading, previous?: Reading): readonly T[] {
    const kept = this.mapped.get(reading);
    if (kept) return kept.kept;
    const mapped = this.remap(reading, previous && this.mapped.get(previous));
    this.mapped.set(reading, mapped);
    return mapped.kept;
  }

  private remap(reading: Reading, before: MappedEntries<T> | undefined): MappedEntries<T> {
    const entries = reading.sections.get(this.section)?.entries ?? [];
    if (before?.entries === entries) return before;
    const range = findChangedRange(before?.entries ?? [], entries);
    // The value of a list's entry depends on its index.
    const moved = entries.length !== before?.entries.length && entries.some(({ name }) => name === undefined);
    const changed = moved ? { ...range, oldEnd: before?.entries.length ?? 0, newEnd: entries.length } : range;
    const { start } = changed;
    const fresh = entries
      .slice(start, changed.newEnd)
      .map(({ name, value }, at) => (value === undefined ? undefined : this.make(value, name ?? start + at)));
    const values = replaceChangedRange(before?.values ?? [], changed, fresh);
    const kept = values.includes(undefined)
      ? values.filter((one) => one !== undefined)
      : (values as readonly T[]);
    return { entries, values, kept };
  }
}
