import { expect, test } from 'vitest';
import { runnersBetween } from '../../../../server/src/model/pool/betweenVersions.ts';

/** Runners by their letters, with the day of the last entry of those whose logs are here. */
function between(before: string, now: string, lastDays: Readonly<Record<string, number>> = {}): number {
  return runnersBetween(
    { runners: [...before], day: 10 },
    { runners: [...now], lastDays: new Map(Object.entries(lastDays)) },
  );
}

test('runners who joined and who left make the difference', () => {
  expect(between('abc', 'abc')).toBe(0);
  expect(between('abc', 'abcd')).toBe(1);
  expect(between('abcd', 'abc')).toBe(1);
  expect(between('abcd', 'abce')).toBe(2);
  expect(between('abc', 'abcdef')).toBe(3);
});

test('and so do those who logged something on that day or since', () => {
  expect(between('abc', 'abc', { a: 9, b: 9 })).toBe(0);
  expect(between('abc', 'abc', { a: 10 })).toBe(1);
  expect(between('abc', 'abc', { a: 11, b: 40 })).toBe(2);
  // Each counts once.
  expect(between('abc', 'abcd', { a: 11, d: 40 })).toBe(2);
  // One who is in neither does not count.
  expect(between('abc', 'abc', { x: 40 })).toBe(0);
});
