/** What the table says of made-up outcomes. */
import { expect, test } from 'vitest';
import { shares, tables } from './table.ts';
import type { Result } from './task.ts';

/** A runner's result, with the area of each policy; the reference gains 2 seconds. */
function resultWith(runner: number, areas: Readonly<Record<string, number>>, best = 2): Result {
  const outcomes = Object.entries(areas).map(
    ([title, area]) => [title, { area, final: 1, exits: 0, slip: null }] as const,
  );
  return { kind: 'own', runner, best: { area: best, final: 4 }, outcomes: Object.fromEntries(outcomes) };
}

test('areas are shares of the reference, and differences are taken runner by runner', () => {
  const results = [
    resultWith(0, { 'this tool': 1.6, rule: 1.2 }),
    resultWith(1, { 'this tool': 0.8, rule: 0.4 }),
  ];
  const [, , tool, rule] = tables(results, ['this tool', 'rule']).split('\n');
  // Shares 80 and 40 %, 60 and 20 %: both differences are 20 points, so their mean has no error.
  expect(tool).toContain('| this tool | 60.0 ± 20.0 | – | 25.0 ± 0.0 |');
  expect(rule).toContain('| rule | 40.0 ± 20.0 | −20.0 ± 0.0 | 25.0 ± 0.0 |');
});

test('somebody who passed the reference is refused, and a runner with nothing to gain is left out', () => {
  expect(() => shares(resultWith(0, { 'this tool': 2.1 }), 'this tool')).toThrow('this tool gained more');
  expect(shares(resultWith(0, { 'this tool': 0.1 }, 0.4), 'this tool')).toEqual([]);
  expect(shares(resultWith(0, {}), 'this tool')).toEqual([]);
});
