import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  minutesOfSession,
  restsAfterBlocks,
  possibleSetSizes,
  fitSession,
} from '../../../../server/src/model/week/sessions.ts';
import { sessionMinutes } from '../../../helpers/weekRules.ts';

describe('the blocks of a day', () => {
  // 4 × 25 minutes and rests of 5, 5 and 10: two hours to the minute.
  it.each([
    [120, 25, 4, 4, 25],
    [120, 30, 6, 4, 25],
    [100, 25, 4, 4, 20],
    [100, 25, 3, 3, 29],
    [60, 25, 4, 2, 27],
    [50, 25, 4, 2, 22],
    [30, 25, 4, 1, 30],
    [20, 30, 4, 1, 20],
    [19, 25, 4, 0, 0],
    [0, 25, 4, 0, 0],
    [600, 25, 1, 3, 20],
  ])(
    '%i minutes, blocks of %i asked, %i techniques: %i blocks of %i',
    (free, asked, techniques, blocks, length) => {
      const shape = fitSession(free, asked, techniques);
      expect({ blocks: shape.blocks, length: shape.length }).toEqual({ blocks, length });
    },
  );

  it('rests 5 minutes between blocks and 10 after an hour', () => {
    expect(restsAfterBlocks({ blocks: 6, length: 20 })).toEqual([5, 5, 10, 5, 5, 0]);
    expect(restsAfterBlocks({ blocks: 4, length: 25 })).toEqual([5, 5, 10, 0]);
    expect(restsAfterBlocks({ blocks: 3, length: 30 })).toEqual([5, 10, 0]);
    expect(restsAfterBlocks({ blocks: 0, length: 0 })).toEqual([]);
  });

  it('keeps the limits whatever is given', () => {
    const anything = fc.oneof(fc.integer({ min: 0, max: 600 }), fc.double());
    fc.assert(
      fc.property(anything, anything, fc.integer({ min: 0, max: 8 }), (free, asked, techniques) => {
        const shape = fitSession(free, asked, techniques);
        if (shape.blocks === 0) return;
        expect(shape.length).toBeGreaterThanOrEqual(20);
        expect(shape.length).toBeLessThanOrEqual(30);
        expect(Math.ceil(shape.blocks / techniques) * shape.length).toBeLessThanOrEqual(60);
        expect(minutesOfSession(shape)).toBe(sessionMinutes(shape.blocks, shape.length));
        expect(minutesOfSession(shape)).toBeLessThanOrEqual(free);
      }),
    );
  });

  it('makes room for four to six techniques in two hours and for one on a short day', () => {
    const none = { pinned: 0, currentMembers: 0 };
    expect(possibleSetSizes([120, 120, 0], 25, none)).toEqual([4]);
    expect(possibleSetSizes([150, 25], 25, none)).toEqual([5, 4]);
    expect(possibleSetSizes([600], 20, none)).toEqual([6, 5, 4]);
    expect(possibleSetSizes([50, 25], 25, none)).toEqual([2, 1]);
    expect(possibleSetSizes([50, 25], 25, { pinned: 0, currentMembers: 2 })).toEqual([2]);
    expect(possibleSetSizes([50, 25], 25, { pinned: 3, currentMembers: 0 })).toEqual([3]);
    expect(possibleSetSizes([10, 0], 25, none)).toEqual([]);
  });
});
