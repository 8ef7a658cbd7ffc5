import { expect, test } from 'vitest';
import { daysSincePractice } from '../../../../server/src/model/week/setFromLogs.ts';
import { block } from '../../../helpers/invented.ts';

test('the days since practice: entries after the morning and of no length do not count', () => {
  const log = [
    block('a', 92, 1, 10, { minutes: 25 }),
    block('a', 97, 1, 10, { minutes: 25 }),
    block('b', 101, 1, 10, { minutes: 25 }),
    block('c', 97, 0, 0, { minutes: 0 }),
  ];
  expect([...daysSincePractice(log, 100)]).toEqual([['a', 3]]);
});
