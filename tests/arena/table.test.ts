/** What the table says of made-up outcomes. */
import { expect, test } from 'vitest';
import { createRandom } from '../../samples/simulation/random.ts';
import { followersOf, shareOf, summary, tables } from './table.ts';
import type { Result } from './task.ts';

/** A runner's result, with the area of each policy; the reference gains 2 seconds. */
function resultWith(runner: number, areas: Readonly<Record<string, number>>, best = 2): Result {
  const outcomes = Object.entries(areas).map(
    ([title, area]) => [title, { area, final: 1, exits: 0, slip: null }] as const,
  );
  return { kind: 'own', runner, best: { area: best, final: 4 }, outcomes: Object.fromEntries(outcomes) };
}

test('areas are shares of what the reference gained for all, and differences are taken runner by runner', () => {
  const results = [
    resultWith(0, { 'this tool': 1.6, rule: 1.2 }),
    resultWith(1, { 'this tool': 0.8, rule: 0.4 }),
  ];
  const [, , tool, rule] = tables(results, ['this tool', 'rule']).split('\n');
  // Shares 80 and 40 %, 60 and 20 %: both differences are 20 points, so their mean has no error.
  expect(tool).toContain('| this tool | 60.0 ± 20.0 | – | 25.0 ± 0.0 |');
  expect(rule).toContain('| rule | 40.0 ± 20.0 | −20.0 ± 0.0 | 25.0 ± 0.0 |');
});

test('a runner with next to nothing to gain counts next to nothing', () => {
  const usual = Array.from({ length: 50 }, () => ({ own: 3, best: 4 }));
  const { mean, error } = shareOf([...usual, { own: -0.4, best: 0.05 }]);
  expect(mean).toBeCloseTo((150 - 0.4) / 200.05, 12);
  expect(error).toBeLessThan(0.003);
});

test('the standard error of a share is how far it scatters from one group of runners to the next', () => {
  const random = createRandom(8).next;
  const groupOf = (): { own: number; best: number }[] =>
    Array.from({ length: 60 }, () => {
      const best = 1 + 6 * random();
      return { own: best * (0.4 + 0.5 * random()), best };
    });
  const shares = Array.from({ length: 400 }, () => shareOf(groupOf()));
  const centre = summary(shares.map(({ mean }) => mean)).mean;
  const scatter = Math.sqrt(summary(shares.map(({ mean }) => (mean - centre) ** 2)).mean);
  const told = summary(shares.map(({ error }) => error)).mean;
  expect(told / scatter).toBeGreaterThan(0.9);
  expect(told / scatter).toBeLessThan(1.1);
});

test('somebody who passed the reference is refused, and who did not follow a policy is left out', () => {
  expect(() => followersOf([resultWith(0, { 'this tool': 2.1 })], 'this tool')).toThrow(
    'this tool gained more',
  );
  expect(followersOf([resultWith(0, {})], 'this tool')).toEqual([]);
  expect(tables([resultWith(0, { rule: 1 })], ['this tool', 'rule'])).toContain(
    '| this tool | – | – | – | – |',
  );
});
