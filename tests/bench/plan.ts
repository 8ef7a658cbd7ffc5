import { createPlanSimulator } from '../../server/src/model/week/planSimulator.ts';
import { bestPlan } from '../../server/src/model/week/planWeek.ts';
import { upperBound } from '../../server/src/model/week/upperBound.ts';
import { possibleSetSizes } from '../../server/src/model/week/sessions.ts';
import { inventWeek } from '../helpers/weekProblems.ts';
import { timed } from './samples.ts';
import { row, type Row } from './table.ts';

const techniques = 30;
const days = 28;
const evaluations = 600;
const boundRounds = 400;
const weeks = [
  [120, 120, 120, 120, 120, 0, 0],
  [100, 100, 75, 50, 100, 0, 0],
  [50, 50, 50, 50, 50, 50, 50],
  [60, 0, 60, 0, 60, 180, 180],
  [25, 25, 25, 25, 25, 0, 90],
];

/** What was measured of plans of invented weeks: milliseconds, and gains as shares of an upper bound for every plan. */
export interface Planning {
  /**
   * Milliseconds to the first plan, which follows the ranking and keeps every rule, and to the plan at the end of the
   * search.
   */
  readonly first: readonly number[];
  readonly searched: readonly number[];
  readonly firstShare: readonly number[];
  readonly searchedShare: readonly number[];
}

/** Plans four weeks of 30 techniques, `rounds` times each of five kinds of week. */
export function measurePlanning(seed: number, rounds: number): Planning {
  const result = { first: [], searched: [], firstShare: [], searchedShare: [] } as {
    [K in keyof Planning]: number[];
  };
  for (let round = 0; round < rounds; round++) {
    for (const [kind, minutes] of weeks.entries()) {
      const problem = inventWeek(seed + 100 * round + kind, {
        techniques,
        days,
        minutes,
        membersAtStart: round % 3,
      });
      const membersAtStart = problem.items.filter((item) => item.inSetAtStart).length;
      const sizes = possibleSetSizes(problem.minutes, problem.blockMinutes, {
        pinned: 0,
        currentMembers: membersAtStart,
      });
      const ranked = problem.items.map((_, i) => i);
      let first = 0;
      result.first.push(...timed(() => (first = createPlanSimulator(problem).plan(ranked, sizes[0]!).area)));
      let searched = 0;
      let size = sizes[0]!;
      result.searched.push(
        ...timed(() => {
          const found = bestPlan(problem, createPlanSimulator(problem), sizes, {
            evaluations,
            boundRounds: 0,
          });
          ({ area: searched, size } = found.schedule);
        }),
      );
      const bound = upperBound(
        problem,
        createPlanSimulator(problem),
        [size, ...sizes.filter((other) => other !== size)],
        searched,
        boundRounds,
      );
      result.firstShare.push(first / bound);
      result.searchedShare.push(searched / bound);
    }
  }
  return result;
}

/** The table's lines about plans. */
export function planRows(seed: number, rounds: number): Row[] {
  const plans = measurePlanning(seed, rounds);
  const byRank = 'a legal plan in order of rank';
  const percent = (shares: readonly number[]): number[] => shares.map((share) => 100 * share);
  return [
    row('Plan four weeks, 30 techniques: searched', 'ms', plans.searched, byRank, plans.first),
    row(
      '… gain of the plan, of a bound that none can pass',
      '%',
      percent(plans.searchedShare),
      byRank,
      percent(plans.firstShare),
    ),
  ];
}
