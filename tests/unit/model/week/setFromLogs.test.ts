import { expect, test } from 'vitest';
import { setFromLogs, daysSincePractice } from '../../../../server/src/model/week/setFromLogs.ts';
import { block } from '../../../helpers/invented.ts';

const entries = (...days: [number, string[]][]) =>
  days.flatMap(([day, techniques]) =>
    techniques.map((id, order) => block(id, day, 1, 10, { minutes: 25, order })),
  );

test('the set is what was practised in the last seven days, longest in it first', () => {
  const log = entries([80, ['late']], [92, ['a']], [95, ['a', 'b']], [97, ['c', 'b']]);
  expect(setFromLogs(log, 100, 4)).toEqual(['a', 'b', 'c']);
  expect(setFromLogs(log, 103, 4)).toEqual(['b', 'c']);
  expect(setFromLogs(log, 105, 4)).toEqual([]);
});

test('what a full session went without was replaced; a short day only rotates', () => {
  const log = entries([95, ['a', 'b', 'c']], [96, ['a', 'b']], [97, ['a', 'b', 'd']]);
  expect(setFromLogs(log, 98, 3)).toEqual(['a', 'b', 'd']);
  expect(setFromLogs(log, 98, 4)).toEqual(['a', 'b', 'c', 'd']);
});

test('entries after the morning and of no length do not count', () => {
  const log = [...entries([97, ['a']], [101, ['b']]), block('c', 97, 0, 0, { minutes: 0 })];
  expect(setFromLogs(log, 100, 4)).toEqual(['a']);
  expect([...daysSincePractice(log, 100)]).toEqual([['a', 3]]);
});
