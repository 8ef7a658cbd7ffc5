import { describe, expect, test } from 'vitest';
import type { PracticeEntry } from '../../../server/src/model/core/types.ts';
import { leastEntries, runnerDigest } from '../../../server/src/queries/poolDigest.ts';

const route = 'lanternfall.route.yaml';

/** An entry, one each evening. */
function entry(day: number, landed: number): PracticeEntry {
  return {
    technique: 'crate-vault',
    day,
    order: 1440 * day + 1170,
    minutes: 20,
    attempts: 100,
    counted: { landed, tries: 100 },
  };
}

const log = (count: number): PracticeEntry[] => Array.from({ length: count }, (_, i) => entry(i, 20 + i));

describe('the digest of a runner', () => {
  test('is 12 hexadecimal digits, 48 bits', () => {
    expect(runnerDigest(route, log(9))).toMatch(/^[0-9a-f]{12}$/);
  });

  test('rests on the first five entries only', () => {
    expect(leastEntries).toBe(5);
    const digest = runnerDigest(route, log(5));
    expect(runnerDigest(route, log(40))).toBe(digest);
    for (let at = 0; at < 5; at++)
      expect(runnerDigest(route, log(9).with(at, entry(at, 90))), `entry ${at}`).not.toBe(digest);
    expect(runnerDigest(route, log(9).with(5, entry(5, 90)))).toBe(digest);
  });

  test('is another one in the pool of another route', () => {
    expect(runnerDigest('other.route.yaml', log(9))).not.toBe(runnerDigest(route, log(9)));
  });

  test('is the same however techniques are called', () => {
    const renamed = log(9).map((one) => ({ ...one, technique: 'box-vault' }));
    expect(runnerDigest(route, renamed)).toBe(runnerDigest(route, log(9)));
  });

  test('there is none with fewer entries', () => {
    expect(runnerDigest(route, log(4))).toBeUndefined();
    expect(runnerDigest(route, [])).toBeUndefined();
  });
});
