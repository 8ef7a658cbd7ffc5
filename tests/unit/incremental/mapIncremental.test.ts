import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  carried,
  differenceOf,
  sameItems,
  spliced,
  type Made,
} from '../../../server/src/incremental/mapIncremental.ts';

const lists = fc.array(fc.integer({ min: 0, max: 3 }), { maxLength: 12 });

describe('differenceOf', () => {
  it('leaves out what is alike at both ends, and no more', () => {
    expect(differenceOf([1, 2, 3, 4], [1, 9, 4])).toEqual({ from: 1, was: 3, is: 2 });
    expect(differenceOf([1, 1], [1])).toEqual({ from: 1, was: 2, is: 1 });
    expect(differenceOf([], [])).toEqual({ from: 0, was: 0, is: 0 });
  });

  it('gives the list now, spliced into the list before', () => {
    fc.assert(
      fc.property(lists, lists, (before, now) => {
        const difference = differenceOf(before, now);
        expect(spliced(before, difference, now.slice(difference.from, difference.is))).toEqual(now);
      }),
      { seed: 1 },
    );
  });
});

describe('carried', () => {
  it('makes each item once, as long as one stretch at a time changes', () => {
    let made = 0;
    const make = (one: number) => ({ one, nr: made++ });
    const first = carried(undefined, [1, 2, 3, 4], make);
    const second = carried(first, [1, 2, 5, 3, 4], make);
    expect(made).toBe(5);
    expect(second.to.map(({ one }) => one)).toEqual([1, 2, 5, 3, 4]);
    expect(second.to[4]).toBe(first.to[3]);
  });

  it('keeps the list where nothing changed', () => {
    const first = carried(undefined, [1, 2], String);
    expect(carried(first, [1, 2], String).to).toBe(first.to);
    expect(carried(first, [1], String).to).not.toBe(first.to);
  });

  it('gives what making all anew gives, after any changes', () => {
    fc.assert(
      fc.property(fc.array(lists), (all) => {
        let made: Made<number, string> | undefined;
        for (const list of all) {
          made = carried(made, list, String);
          expect(made.to).toEqual(list.map(String));
        }
      }),
      { seed: 2 },
    );
  });
});

it('sameItems looks at objects, not at what they hold', () => {
  const one = {};
  expect([sameItems([one], [one]), sameItems([one], [{}]), sameItems([one], [])]).toEqual([
    true,
    false,
    false,
  ]);
});
