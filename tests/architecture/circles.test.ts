import { expect, test } from 'vitest';
import { circlesOf } from './circles.ts';

const graph = (arrows: Readonly<Record<string, string>>): Map<string, string[]> =>
  new Map(Object.entries(arrows).map(([from, to]) => [from, [...to]]));

test('files that import each other in a circle are one group, however many circles they make', () => {
  expect(circlesOf(graph({ a: 'b', b: 'c', c: 'ab', d: 'a' }))).toEqual([['a', 'b', 'c']]);
});

test('two circles that touch by an arrow in one direction are two groups', () => {
  expect(circlesOf(graph({ a: 'bc', b: 'a', c: 'd', d: 'c' }))).toEqual([
    ['c', 'd'],
    ['a', 'b'],
  ]);
});

test('arrows in one direction, by many ways to the same file, are no circle', () => {
  expect(circlesOf(graph({ a: 'bcd', b: 'd', c: 'd', d: '' }))).toEqual([]);
});

test('what is imported from elsewhere belongs to no circle', () => {
  expect(circlesOf(graph({ a: 'x', b: 'ax' }))).toEqual([]);
});
