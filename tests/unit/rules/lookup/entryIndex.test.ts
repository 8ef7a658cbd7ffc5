import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EntryIndex } from '../../../../server/src/rules/lookup/entryIndex.ts';

interface Entry {
  readonly names: readonly string[];
}

// A few entries that come and go as the very same objects, as those of a route do.
const pool: Entry[] = ['', 'a', 'b', 'ab', 'aa', 'c'].map((names) => ({ names: [...names] }));
const histories = fc.array(fc.array(fc.constantFrom(...pool), { maxLength: 8 }), { maxLength: 8 });
const namesIn = ({ names }: Entry) => names;

describe('what is remembered of entries is what a look at all of them gives', () => {
  it('names, how often they occur, and whether one came or went', () => {
    fc.assert(
      fc.property(histories, (history) => {
        const memory = new EntryIndex();
        let before: { readonly distinct: string; readonly stamp: readonly unknown[] } | undefined;
        for (const entries of history) {
          const all = entries.flatMap(namesIn);
          const tally = memory.countNames(entries, namesIn);
          const distinct = [...new Set(all)].sort();
          expect([...tally].sort()).toEqual(distinct);
          expect([tally.size, tally.hasDuplicates]).toEqual([distinct.length, distinct.length < all.length]);
          for (const name of 'abc') expect(tally.has(name)).toBe(all.includes(name));
          const now = { distinct: distinct.join(' '), stamp: tally.revision };
          if (before && before.distinct !== now.distinct) expect(now.stamp).not.toEqual(before.stamp);
          before = now;
        }
      }),
      { seed: 3 },
    );
  });

  it('what is picked, as the same list where nothing of it changed', () => {
    fc.assert(
      fc.property(histories, (history) => {
        const memory = new EntryIndex();
        let before: readonly string[] | undefined;
        for (const entries of history) {
          const picked = memory.collect(entries, namesIn);
          expect(picked).toEqual(entries.flatMap(namesIn));
          if (before && before.join() === picked.join()) expect(picked).toBe(before);
          before = picked;
        }
      }),
      { seed: 4 },
    );
  });

  it('does something once, until what it comes from is another', () => {
    const memory = new EntryIndex();
    const [one, other] = [{}, {}];
    let made = 0;
    const ask = (from: readonly unknown[]) => memory.getOrCompute('made', from, () => ++made);
    expect([ask([one]), ask([one]), ask([other]), ask([other, one])]).toEqual([1, 1, 2, 3]);
  });

  it('keeps the stamp while the same names stand elsewhere', () => {
    const memory = new EntryIndex();
    const { revision: stamp } = memory.countNames([pool[1]!, pool[2]!], namesIn);
    expect(memory.countNames([pool[3]!], namesIn).revision).toEqual(stamp);
    expect(memory.countNames([pool[1]!], namesIn).revision).not.toEqual(stamp);
  });
});
