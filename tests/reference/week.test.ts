import highsLoader from 'highs';
import { describe, expect, it } from 'vitest';
import { upperBound } from '../../server/src/model/week/upperBound.ts';
import { createPlanSimulator } from '../../server/src/model/week/planSimulator.ts';
import { readLevelTable } from '../../server/src/model/week/levelTable.ts';
import { gainForecast } from '../../server/src/model/week/levelDynamics.ts';
import { localSearch } from '../../server/src/model/week/localSearch.ts';
import type { PlanProblem } from '../../server/src/model/week/planProblem.ts';
import { inventWeek } from '../helpers/weekProblems.ts';

describe('against the mixed-integer solver HiGHS (S: Huangfu & Hall 2018, as the npm package highs)', () => {
  // Eight days of two blocks and a set of two: nobody who left comes back, so a path is one stay. The solver may
  // choose any stays that fit, leaving where the rule could allow it: at least as much as any plan can have, and no
  // more than the bound.
  it.each([1, 2, 3, 4])('week %i: plan ≤ solver ≤ bound', async (seed) => {
    const problem = inventWeek(seed, {
      techniques: 12,
      days: 8,
      minutes: Array<number>(7).fill(50),
      needing: 0,
    });
    const follow = createPlanSimulator(problem);
    const found = localSearch(problem, follow, [2], 400);
    const solved = await bestStays(problem);
    const bound = upperBound(problem, follow, [2], found.area, 300);
    expect(found.area).toBeLessThanOrEqual(solved * (1 + 1e-6));
    expect(solved).toBeLessThanOrEqual(bound * (1 + 1e-6));
    // The solver need not leave as soon as something ranks higher: that is worth a few percent to it.
    expect(found.area).toBeGreaterThan(0.9 * solved);
    expect(bound).toBeLessThan(1.05 * solved);
  });
});

/** The greatest area of single stays, two techniques at a time, by HiGHS. */
async function bestStays(problem: PlanProblem): Promise<number> {
  const days = problem.minutes.length;
  const follow = createPlanSimulator(problem);
  const { length } = follow.shape(0, 2);
  const tops = problem.items.map(({ rate }) => rate.values.reduce((a, b) => Math.max(a, b), 0));
  const columns: { name: string; value: number; item: number; from: number; to: number }[] = [];
  problem.items.forEach((item, i) => {
    const best = tops.reduce((a, b, j) => (j === i ? a : Math.max(a, b)), 0);
    let start = follow.dynamics.start[i]!;
    for (let from = 0; from < days; from++) {
      if (from > 0) start = follow.dynamics.next(i, from - 1, start, 0);
      for (let to = from + 1; to <= days; to++) {
        const minutes = Array.from({ length: days }, (_, d) => (d >= from && d < to ? length : 0));
        const { gains, levels } = gainForecast(problem, follow.dynamics, i, minutes);
        const level = levels[to - 1]!;
        const rate = readLevelTable(item.rate, level);
        const may = to === days || (level >= item.competentLevel && rate < best);
        if (!may || start >= item.competentLevel) continue;
        const value = gains.reduce((a, b) => a + b, 0);
        columns.push({ name: `y${i}a${from}b${to}`, value, item: i, from, to });
      }
    }
  });
  const sum = (list: typeof columns): string => list.map(({ name }) => name).join(' + ');
  const model = [
    'Maximize',
    ` obj: ${columns.map(({ value, name }) => `${value.toFixed(9)} ${name}`).join(' + ')}`,
    'Subject To',
    ...Array.from(
      { length: days },
      (_, d) => ` d${d}: ${sum(columns.filter((c) => c.from <= d && d < c.to))} <= 2`,
    ),
    ...problem.items.map((_, i) => ` i${i}: ${sum(columns.filter((c) => c.item === i))} <= 1`),
    'Binary',
    ` ${columns.map(({ name }) => name).join(' ')}`,
    'End',
  ].join('\n');
  const highs = await highsLoader();
  const solution = highs.solve(model.replaceAll('+ -', '- '));
  expect(solution.Status).toBe('Optimal');
  return solution.ObjectiveValue;
}

describe('practice spread over days', () => {
  const spreads = [0.2, 0];
  // Baddeley & Longman 1978: an hour a day teaches more an hour than two or four a day (S; figures M). The order must
  // hold with the overnight gain and without it, since that gain is contested.
  it.each(spreads)(
    'gains more than the same minutes in one long session, overnight gain %f',
    (overnightGain) => {
      for (let seed = 1; seed <= 10; seed++) {
        const made = inventWeek(seed, { techniques: 6, days: 7, minutes: Array<number>(7).fill(60) });
        const problem: PlanProblem = {
          ...made,
          constants: { ...made.constants, overnightGain, halfLife: 1e9 },
        };
        const { dynamics: walk } = createPlanSimulator(problem);
        problem.items.forEach((_, i) => {
          const last = (minutes: readonly number[]): number =>
            gainForecast(problem, walk, i, minutes).levels.at(-1)!;
          expect(last([60, 0, 60, 0, 0, 0, 0])).toBeGreaterThan(last([0, 0, 120, 0, 0, 0, 0]));
          expect(last([30, 30, 30, 30, 30, 30, 0])).toBeGreaterThan(last([0, 0, 180, 0, 0, 0, 0]));
        });
      }
    },
  );
});
