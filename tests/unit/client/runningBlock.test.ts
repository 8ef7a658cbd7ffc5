import { expect, test, vi } from 'vitest';
import * as editor from './fakeEditor.ts';
import {
  advanceToTime,
  maxPauseMs,
  paused,
  resumed,
  withMinutesAdded,
  type RunningBlock,
} from '../../../client/src/practice/runningBlock.ts';

vi.mock('vscode', () => editor);

const began = 1_000_000;
const block: RunningBlock = {
  version: 1,
  phase: 'block',
  uri: 'file:///w/a.practice.yaml',
  route: 'Lanternfall, any%',
  technique: 'lamp-hop',
  name: 'Lamp hop',
  from: '',
  cycle: 5,
  block: 'b-1',
  began,
  ends: began + 1_500_000,
  restEnds: null,
  before: 0,
  promise: '',
  caution: null,
  slowSaid: false,
  timeUp: false,
};

test('a block that was paused twice ends later by both pauses, and knows how long they were', () => {
  const once = resumed(paused(block, began + 60_000), began + 90_000);
  expect(once).toMatchObject({ phase: 'block', ends: block.ends + 30_000, pausedMs: 30_000 });
  expect(once).not.toHaveProperty('pausedAt');
  const twice = resumed(paused(once, began + 200_000), began + 205_000);
  expect(twice).toMatchObject({ ends: block.ends + 35_000, pausedMs: 35_000 });
});

test('a clock that was set back in a pause makes no block shorter', () => {
  expect(resumed(paused(block, began + 60_000), began).ends).toBe(block.ends);
});

test('in a pause time brings nothing until it is as long as a pause can be', () => {
  const still = paused(block, began + 60_000);
  expect(advanceToTime(still, 3, block.ends + 1)).toEqual({
    running: still,
    next: began + 60_000 + maxPauseMs,
  });
});

test('a block that is got ready for begins by itself', () => {
  const ready: RunningBlock = { ...block, phase: 'ready' };
  expect(advanceToTime(ready, 0, began - 1)).toEqual({ running: ready, next: began });
  expect(advanceToTime(ready, 0, began)).toEqual({ running: block, next: block.ends });
});

const minutes = (count: number): number => count * 60_000;

test('minutes that are taken away and given back lead exactly to where the block was, and the other way round', () => {
  const at = began + minutes(10);
  const shorter = withMinutesAdded(block, -5, at);
  expect(shorter.ends).toBe(block.ends - minutes(5));
  expect(withMinutesAdded(shorter, 5, at + 1000).ends).toBe(block.ends);
  const longer = withMinutesAdded(block, 5, at);
  expect(longer.ends).toBe(block.ends + minutes(5));
  expect(withMinutesAdded(longer, -5, at).ends).toBe(block.ends);
});

test('a block made so short that its time is up goes on with its old end, also where nothing was counted', () => {
  const at = block.ends - minutes(3);
  const short = withMinutesAdded(block, -5, at);
  expect(short.ends).toBe(at);
  for (const [tries, phase] of [
    [3, 'up'],
    [0, 'count'],
  ] as const) {
    const { running } = advanceToTime(short, tries, at);
    expect(running).toMatchObject({ phase, timeUp: true });
    expect(withMinutesAdded(running, -5, at)).toBe(running);
    expect(withMinutesAdded(running, 5, at + minutes(1))).toMatchObject({
      phase: 'block',
      timeUp: false,
      ends: block.ends,
    });
    // What has been over for longer would end in the past.
    expect(withMinutesAdded(running, 5, block.ends + 1)).toBe(running);
  }
});

test('at the longest that a block can be, one step more changes nothing, and one less leads back', () => {
  const near = { ...block, ends: began + minutes(57) };
  const longest = withMinutesAdded(near, 5, began);
  expect(longest.ends).toBe(began + minutes(60));
  expect(withMinutesAdded(longest, 5, began)).toBe(longest);
  expect(withMinutesAdded(longest, -5, began).ends).toBe(near.ends);
});

test('pauses take nothing from the longest time of a block, nor from what was taken away', () => {
  const at = block.ends - minutes(3);
  const late = resumed(
    paused({ ...block, ends: began + minutes(60) }, began + 1000),
    began + 1000 + minutes(20),
  );
  expect(withMinutesAdded(late, 5, began + minutes(30))).toBe(late);
  const short = withMinutesAdded(withMinutesAdded(block, 5, began), -5, at);
  const after = resumed(paused(short, at), at + minutes(2));
  expect(withMinutesAdded(after, 5, at + minutes(2)).ends).toBe(block.ends + minutes(7));
});

test('minutes of a block that was ended by hand, or is logged, stay as they are', () => {
  for (const over of [
    { phase: 'count' },
    { phase: 'rest', restEnds: began },
    { phase: 'paused', pausedAt: began },
  ] as const) {
    const running = { ...block, ...over };
    expect(withMinutesAdded(running, 5, began)).toBe(running);
    expect(withMinutesAdded(running, -5, began)).toBe(running);
  }
});
