import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  minutesOfSession,
  restsAfterBlocks,
  possibleSetSizes,
  fitSession,
  fitSessionToRooms,
  unusedMinutes,
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
    [5, 25, 4, 0, 0],
    [17, 30, 1, 0, 0],
    [45, 25, 4, 2, 20],
    [45, 30, 4, 1, 30],
    // Two techniques never take turns where both fit.
    [45, 30, 2, 2, 20],
    [50, 30, 4, 2, 22],
    [60, 30, 4, 2, 27],
    [60, 30, 1, 2, 27],
    [75, 30, 4, 2, 30],
    [75, 30, 3, 3, 21],
    [90, 30, 4, 3, 26],
    [121, 30, 4, 4, 25],
    [600, 30, 4, 8, 30],
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

  const day = fc.oneof(fc.integer({ min: 0, max: 1440 }), fc.constantFrom(0, 5, 17, 45, 60, 121, 600));
  const asked = fc.integer({ min: 20, max: 30 });

  it('fill it to less than a block, unless each technique has its hour', () => {
    fc.assert(
      fc.property(day, asked, fc.integer({ min: 1, max: 8 }), (free, preferred, techniques) => {
        const shape = fitSession(free, preferred, techniques);
        const unused = free - sessionMinutes(shape.blocks, shape.length);
        expect(unused).toBeGreaterThanOrEqual(0);
        // The minutes that each technique could still have, where the blocks are shared out evenly.
        const room = 60 - Math.floor(shape.blocks / techniques) * shape.length;
        if (room >= 20) expect(unused).toBeLessThan(20);
        if (sessionMinutes(techniques, 20) <= free) expect(shape.blocks).toBeGreaterThanOrEqual(techniques);
      }),
      { numRuns: 3000 },
    );
  });

  it('keep to the minutes that each technique may still have that day', () => {
    const rooms = fc.array(fc.integer({ min: 0, max: 60 }), { maxLength: 6 });
    fc.assert(
      fc.property(day, asked, rooms, (free, preferred, left) => {
        const { blocks, length } = fitSessionToRooms(free, preferred, left);
        expect(sessionMinutes(blocks, length)).toBeLessThanOrEqual(free);
        const fitting = left.reduce((sum, room) => sum + Math.floor(room / Math.max(1, length)), 0);
        expect(fitting).toBeGreaterThanOrEqual(blocks);
        if (free >= 20 && left.some((room) => room >= 20)) expect(blocks).toBeGreaterThan(0);
      }),
      { numRuns: 1000 },
    );
    expect(fitSessionToRooms(100, 30, [50])).toEqual({ blocks: 2, length: 25 });
    expect(fitSessionToRooms(120, 30, [15, 60])).toEqual({ blocks: 2, length: 30 });
  });

  it('name the rule that forbids the use of what remains', () => {
    const unused = (free: number, shape: [number, number], rooms: number[], restBefore = 0) =>
      unusedMinutes(free, restBefore, { blocks: shape[0], length: shape[1] }, rooms);
    expect(unused(45, [2, 20], [60, 60])).toBeNull();
    expect(unused(0, [0, 0], [60])).toBeNull();
    expect(unused(5, [0, 0], [60])).toEqual({ minutes: 5, rule: 'short-block' });
    expect(unused(45, [1, 30], [60, 60])).toEqual({ minutes: 15, rule: 'short-block' });
    expect(unused(600, [2, 30], [60])).toEqual({ minutes: 535, rule: 'hour-on-one' });
    expect(unused(60, [0, 0], [])).toEqual({ minutes: 60, rule: 'nothing-to-practise' });
    expect(unused(17, [0, 0], [60], 5)).toEqual({ minutes: 22, rule: 'rests' });
    expect(unused(10, [0, 0], [60], 5)).toEqual({ minutes: 15, rule: 'short-block' });
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
    expect(possibleSetSizes([60], 30, none)).toEqual([2]);
    expect(possibleSetSizes([45], 30, none)).toEqual([1]);
    expect(possibleSetSizes([45], 30, { pinned: 0, currentMembers: 5 })).toEqual([1]);
  });
});
