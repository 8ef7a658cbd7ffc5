import { expect, test } from 'vitest';
import { longDays } from '../../../../server/src/rules/lookup/longDays.ts';

const practised = (day: number, minutes: number) => ({ day, minutes });

test('adds up what has the same key, and names the entry with which the minutes were more than allowed', () => {
  const passing = practised(1, 30);
  const practice = [practised(1, 40), practised(2, 50), passing, practised(1, 5), practised(2, 10)];
  expect(longDays(practice, 60, ({ day }) => day)).toEqual([{ minutes: 75, passedBy: passing }]);
  expect(longDays(practice, 60, ({ day }) => day)[0]!.passedBy).toBe(passing);
});

test('as many minutes as are allowed are no long day', () => {
  expect(longDays([practised(1, 30), practised(1, 30)], 60, ({ day }) => day)).toEqual([]);
});
