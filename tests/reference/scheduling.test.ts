import { expect, test } from 'vitest';
import { closedSets } from '../../server/src/model/rank/closedSets.ts';
import type { ClosureItem } from '../../server/src/model/rank/closedSets.ts';

/** A job of `time` blocks that pays its weight only once it is done. */
function job(time: number, weight: number, needs: readonly number[] = []): ClosureItem {
  return { gains: Array.from({ length: time + 1 }, (_, n) => (n < time ? 0 : weight)), needs, readyAt: time };
}

/** Jobs one after another: sets in order, in a set needs first. */
function orderOf(items: readonly ClosureItem[]): number[] {
  const order: number[] = [];
  for (const set of closedSets(items, 1)) {
    const waiting = set.members.map((m) => m.item);
    while (waiting.length > 0) {
      const next = waiting.findIndex((i) => items[i]!.needs.every((need) => !waiting.includes(need)));
      order.push(...waiting.splice(next, 1));
    }
  }
  return order;
}

function weightedCompletion(
  order: readonly number[],
  times: readonly number[],
  weights: readonly number[],
): number {
  let clock = 0;
  return order.reduce((sum, i) => {
    clock += times[i]!;
    return sum + weights[i]! * clock;
  }, 0);
}

test("Smith's rule: the job with the most weight for its time first", () => {
  // S: Smith 1956, Naval Research Logistics Quarterly 3; jobs (time, weight) = (1, 10), (3, 2).
  const [times, weights] = [[1, 3], [10, 2]]; // prettier-ignore
  const order = orderOf(times.map((time, i) => job(time, weights[i]!)));
  expect(order).toEqual([0, 1]);
  expect(weightedCompletion(order, times, weights)).toBe(18);
  expect(weightedCompletion([1, 0], times, weights)).toBe(46);
});

test('two chains of seven jobs: the order is the best one there is', () => {
  // Pinedo, Scheduling: chains 1→2→3→4 and 5→6→7. The data are M, from memory; the best order and its cost are
  // worked out here by trying every order that keeps the chains.
  const times = [3, 6, 6, 5, 4, 8, 10];
  const weights = [6, 18, 12, 8, 8, 17, 18];
  const needs = [[], [0], [1], [2], [], [4], [5]];
  const order = orderOf(times.map((time, i) => job(time, weights[i]!, needs[i])));
  expect(order.map((i) => i + 1)).toEqual([1, 2, 5, 6, 3, 7, 4]);
  let best = Infinity;
  const visit = (done: readonly number[]): void => {
    if (done.length === times.length) best = Math.min(best, weightedCompletion(done, times, weights));
    times.forEach((_, i) => {
      if (!done.includes(i) && needs[i]!.every((need) => done.includes(need))) visit([...done, i]);
    });
  };
  visit([]);
  expect(best).toBe(1967);
  expect(weightedCompletion(order, times, weights)).toBe(best);
});
