import type { CheckedEntry } from '../schema/checkFile.ts';
import { findChangedRange, replaceChangedRange } from '../../incremental/mapIncremental.ts';
import type { Reading } from '../reading/reading.ts';

interface MappedEntries<T> {
  readonly from: readonly CheckedEntry[];
  /** One for each entry; undefined where nothing could be made of it. */
  readonly to: readonly (T | undefined)[];
  readonly kept: readonly T[];
}

/**
 * What was made of each entry of a section. An entry that did not change is the same object as after the reading
 * before, and a list in which none did is the same list.
 */
export class EntryMapper<T> {
  private readonly mapped = new WeakMap<Reading, MappedEntries<T>>();
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
  map(reading: Reading, previous?: Reading): readonly T[] {
    const kept = this.mapped.get(reading);
    if (kept) return kept.kept;
    const made = this.remap(reading, previous && this.mapped.get(previous));
    this.mapped.set(reading, made);
    return made.kept;
  }

  private remap(reading: Reading, before: MappedEntries<T> | undefined): MappedEntries<T> {
    const from = reading.sections.get(this.section)?.entries ?? [];
    if (before?.from === from) return before;
    const difference = findChangedRange(before?.from ?? [], from);
    // What stands in a list knows its index.
    const moved = from.length !== before?.from.length && from.some(({ name }) => name === undefined);
    const changed = moved
      ? { ...difference, oldEnd: before?.from.length ?? 0, newEnd: from.length }
      : difference;
    const { start } = changed;
    const fresh = from
      .slice(start, changed.newEnd)
      .map(({ name, value }, at) => (value === undefined ? undefined : this.make(value, name ?? start + at)));
    const to = replaceChangedRange(before?.to ?? [], changed, fresh);
    const kept = to.includes(undefined) ? to.filter((one) => one !== undefined) : (to as readonly T[]);
    return { from, to, kept };
  }
}
