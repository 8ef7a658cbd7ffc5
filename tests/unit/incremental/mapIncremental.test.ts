import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  mapIncremental,
  findChangedRange,
  sameItems,
  replaceChangedRange,
  type MappedList,
} from '../../../server/src/incremental/mapIncremental.ts';

const lists = fc.array(fc.integer({ min: 0, max: 3 }), { maxLength: 12 });

describe('findChangedRange', () => {
  it('leaves out what is alike at both ends, and no more', () => {
    expect(findChangedRange([1, 2, 3, 4], [1, 9, 4])).toEqual({ start: 1, oldEnd: 3, newEnd: 2 });
    expect(findChangedRange([1, 1], [1])).toEqual({ start: 1, oldEnd: 2, newEnd: 1 });
    expect(findChangedRange([], [])).toEqual({ start: 0, oldEnd: 0, newEnd: 0 });
  });

  it('gives the list now, spliced into the list before', () => {
    fc.assert(
      fc.property(lists, lists, (before, now) => {
        const difference = findChangedRange(before, now);
        expect(
          replaceChangedRange(before, difference, now.slice(difference.start, difference.newEnd)),
        ).toEqual(now);
      }),
      { seed: 1 },
    );
  });
});

describe('carried', () => {
  it('makes each item once, as long as one stretch at a time changes', () => {
    let made = 0;
    const make = (one: number) => ({ one, nr: made++ });
    const first = mapIncremental(undefined, [1, 2, 3, 4], make);
    const second = mapIncremental(first, [1, 2, 5, 3, 4], make);
    expect(made).toBe(5);
    expect(second.outputs.map(({ one }) => one)).toEqual([1, 2, 5, 3, 4]);
    expect(second.outputs[4]).toBe(first.outputs[3]);
  });

  it('keeps the list where nothing changed', () => {
    const first = mapIncremental(undefined, [1, 2], String);
    expect(mapIncremental(first, [1, 2], String).outputs).toBe(first.outputs);
    expect(mapIncremental(first, [1], String).outputs).not.toBe(first.outputs);
  });

  it('gives what making all anew gives, after any changes', () => {
    fc.assert(
      fc.property(fc.array(lists), (all) => {
        let made: MappedList<number, string> | undefined;
        for (const list of all) {
          made = mapIncremental(made, list, String);
          expect(made.outputs).toEqual(list.map(String));
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
