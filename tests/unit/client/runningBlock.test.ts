import { expect, test, vi } from 'vitest';
import * as editor from './fakeEditor.ts';
import {
  advanceToTime,
  maxPauseMs,
  paused,
  resumed,
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
