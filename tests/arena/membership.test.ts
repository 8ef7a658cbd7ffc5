/** Who has left a practice set, on practice days written by hand. */
import { expect, test } from 'vitest';
import { absence, exitsPerWeek } from './membership.ts';
import type { PracticeDay } from './membership.ts';

/** One practice a day from the first day on, a list of techniques each; `learned` from a day on. */
function practiceDays(sets: readonly (readonly number[])[], learnedFrom = Infinity): PracticeDay[] {
  return sets.map((set, day) => ({
    day,
    practised: new Set(set),
    learned: (skill) => skill === 1 && day >= learnedFrom,
  }));
}

/** A week with technique 1, then days without it, so that the seventh day is the last that is judged. */
const leavesOnDaySeven = [...new Array<number[]>(6).fill([1, 2]), ...new Array<number[]>(absence).fill([2])];

test('a technique that is dropped half-learned has left', () => {
  expect(exitsPerWeek(practiceDays(leavesOnDaySeven))).toBe(1);
});

test('one that was called learned on a morning without it has not', () => {
  expect(exitsPerWeek(practiceDays(leavesOnDaySeven, 8))).toBe(0);
});

test('it comes back within four practice days: it has not left', () => {
  const sets = leavesOnDaySeven.with(-1, [1, 2]);
  expect(exitsPerWeek(practiceDays([...sets, [1, 2], [1, 2], [1, 2]]))).toBe(0);
});

test('a set of four, one each day, is kept whole', () => {
  expect(exitsPerWeek(practiceDays(Array.from({ length: 20 }, (_, day) => [day % 4])))).toBe(0);
  expect(exitsPerWeek(practiceDays(Array.from({ length: 20 }, (_, day) => [day % 5])))).toBeGreaterThan(1);
});

test('who leaves, comes back and leaves again has left twice', () => {
  const sets = [[1], [2], [2], [2], [2], [1], [2], [2], [2], [2]];
  expect(exitsPerWeek(practiceDays(sets))).toBe(2);
});

test('days without practice are time in which nobody leaves', () => {
  const later = practiceDays(leavesOnDaySeven).map((day) => ({ ...day, day: 2 * day.day + 1 }));
  expect(exitsPerWeek(later)).toBe(0.5);
});

test('too few practice days give no number', () => {
  expect(exitsPerWeek(practiceDays([[1], [2], [2], [2]]))).toBeNull();
  expect(exitsPerWeek([])).toBeNull();
});
