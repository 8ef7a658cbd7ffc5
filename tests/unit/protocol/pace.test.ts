import { describe, expect, it } from 'vitest';
import {
  advanceToTime,
  graceMs,
  withMinutesAdded,
  runningBlockShape,
  type RunningBlock,
} from '../../../client/src/practice/runningBlock.ts';
import { practiceVersion } from '../../../server/src/protocol/practice/bindings.ts';
import {
  blockSummary,
  clockText,
  paceOf,
  restMinutesAfter,
  slowPace,
} from '../../../server/src/protocol/practice/pace.ts';

const minute = 60_000;
/** Attempts so many seconds after a start at 0. */
const made = (seconds: readonly number[], landed = true) => seconds.map((at) => ({ at: at * 1000, landed }));
const every = (apart: number, count: number) => made(Array.from({ length: count }, (_, at) => at * apart));

describe('the pace', () => {
  it('counts the last two minutes, and since the start before that', () => {
    // Every 6 s are 10 a minute: 60 / 6. P
    expect(paceOf(every(6, 100), 0, 594_000).perMinute).toBe('10.0');
    expect(paceOf(every(6, 6), 0, 36_000).perMinute).toBe('8.3'); // 5 after the very start, in 36 s
    expect(paceOf([], 0, 60_000)).toEqual({ perMinute: 'none yet', lately: 'none yet' });
    expect(paceOf(every(6, 2), 0, 12_000).perMinute).toBe('after 20 s');
  });

  it('falls where nobody presses any more', () => {
    const attempts = every(6, 20);
    expect(paceOf(attempts, 0, 180_000).perMinute).toBe('4.5'); // those after 60 s, 9 of them, in 120 s
    expect(paceOf(attempts, 0, 300_000)).toEqual({ perMinute: '0.0', lately: 'no attempt' });
  });

  it('tells what landed in the last 30 s, and leaves out what a clock set back puts ahead', () => {
    const attempts = [...made([0, 5]), ...made([31, 40], false), ...made([50])];
    expect(paceOf(attempts, 0, 60_000).lately).toBe('1 of 3');
    expect(paceOf(made([500]), 0, 60_000).lately).toBe('no attempt');
  });
});

describe('dead time', () => {
  it('is pointed out by the median of the last gaps, to half a second', () => {
    expect(slowPace(every(9.4, 9), 5)).toMatchObject({ cycle: 9.5 });
    expect(slowPace(every(9.4, 9), 5)?.text).toContain('correct the cycle');
    // 60 / 5 - 60 / 10 = 6 more per minute.
    expect(slowPace(every(10, 20), 5)?.text).toContain('room for 6.0 more per minute');
  });

  it('is not seen in one long gap, in a cycle as written, or in few attempts', () => {
    expect(slowPace(made([0, 5, 10, 15, 20, 25, 120, 125, 130]), 5)).toBeUndefined();
    expect(slowPace(every(6, 30), 5)).toBeUndefined();
    expect(slowPace(every(20, 8), 5)).toBeUndefined();
    // A short cycle is not called slow by a second.
    expect(slowPace(every(2.5, 30), 1)).toBeUndefined();
    expect(slowPace([], 5)).toBeUndefined();
  });
});

describe('rest', () => {
  it('is 5 min, and 10 where an hour is full', () => {
    // P: a short rest between blocks, a longer one each hour.
    expect(restMinutesAfter(0, 25)).toBe(5);
    expect(restMinutesAfter(25, 25)).toBe(5);
    expect(restMinutesAfter(50, 25)).toBe(10);
    expect(restMinutesAfter(75, 25)).toBe(5);
    expect(restMinutesAfter(100, 25)).toBe(10);
    expect(restMinutesAfter(0, 60)).toBe(10);
  });
});

describe('words', () => {
  it('tell time left and the block that is over', () => {
    expect(clockText(1_500_000)).toBe('25:00');
    expect(clockText(59_001)).toBe('1:00');
    expect(clockText(-5000)).toBe('0:00');
    expect(blockSummary('Crate vault', 24.5, 61, 104)).toBe('24.5 min of Crate vault: 61 of 104 landed.');
    expect(blockSummary('Crate vault', 25, 0, 0)).toBe('25 min of Crate vault.');
    expect(blockSummary('Crate vault', 0.1, 1, 1)).toBe('6 s of Crate vault: 1 of 1 landed.');
  });
});

describe('what the clock makes of a block', () => {
  const began = 1_000_000;
  const block: RunningBlock = {
    version: practiceVersion,
    phase: 'block',
    uri: 'file:///w/a.practice.yaml',
    route: 'Lanternfall, any%',
    technique: 'crate-vault',
    name: 'Crate vault',
    from: '',
    cycle: 5,
    block: 'b-1',
    began,
    ends: began + 25 * minute,
    restEnds: null,
    before: 0,
    promise: '',
    caution: null,
    slowSaid: false,
    timeUp: false,
  };

  it('goes by absolute times, however long nobody looked', () => {
    expect(runningBlockShape.fits(JSON.parse(JSON.stringify(block)))).toBe(true);
    expect(advanceToTime(block, 3, began + 24 * minute)).toEqual({ running: block, next: block.ends });
    const up = advanceToTime(block, 3, block.ends);
    expect(up.running).toMatchObject({ phase: 'up', timeUp: true, ends: block.ends });
    expect(up.next).toBe(block.ends + graceMs);
    // Long after, as after a night: the time to close it has come at once, and its end stays where it was.
    const late = advanceToTime(block, 3, block.ends + 600 * minute);
    expect(late.running).toMatchObject({ phase: 'up', ends: block.ends });
    expect(late.next).toBe(block.ends + 600 * minute);
  });

  it('asks for numbers where none was counted, and waits for them', () => {
    expect(advanceToTime(block, 0, block.ends)).toMatchObject({
      running: { phase: 'count', timeUp: true },
      next: null,
    });
  });

  it('can be made longer up to an hour, and shorter down to now', () => {
    const now = began + 10 * minute;
    expect(withMinutesAdded(block, 5, now).ends).toBe(began + 30 * minute);
    expect(withMinutesAdded(block, 50, now).ends).toBe(began + 60 * minute);
    expect(withMinutesAdded(block, -5, now).ends).toBe(began + 20 * minute);
    expect(withMinutesAdded(block, -25, now).ends).toBe(now);
  });

  it('ends the rest by itself', () => {
    const rest: RunningBlock = { ...block, phase: 'rest', restEnds: began + 30 * minute };
    expect(advanceToTime(rest, 3, began + 29 * minute)).toEqual({ running: rest, next: began + 30 * minute });
    expect(advanceToTime(rest, 3, began + 30 * minute)).toMatchObject({
      running: { phase: 'rested' },
      next: null,
    });
  });
});
