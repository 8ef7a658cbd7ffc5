/**
 * Improves a plan by local search, starting from the order of the ranking and changing the order in which
 * techniques enter the set.
 */
import type { PlanSimulator } from './planSimulator.ts';
import type { TieBreak } from './allocateBlocks.ts';
import type { PlanProblem } from './planProblem.ts';

export interface SearchResult {
  readonly order: readonly number[];
  readonly size: number;
  readonly ties: TieBreak;
  readonly area: number;
  readonly evaluations: number;
}

/** A new order must raise the area by at least this share; otherwise the order of the ranking is kept. */
const minImprovement = 1e-3;

/**
 * A pseudo-random generator with a fixed seed (a linear congruential generator with the constants of Numerical
 * Recipes), so that the search always gives the same result.
 */
function seededRandom(): (below: number) => number {
  let state = 20261;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 4294967296) * below);
  };
}

function withItemMoved(order: readonly number[], from: number, to: number): number[] {
  const next = [...order];
  const [item] = next.splice(from, 1);
  next.splice(to, 0, item!);
  return next;
}

/**
 * Searches orders of entry: starts from the ranking and moves one technique at a time to another place while that
 * raises the area; then repeats this from the best order so far with a few random moves. Stops after `budget`
 * plans.
 */
export function localSearch(
  problem: PlanProblem,
  simulator: PlanSimulator,
  sizes: readonly number[],
  budget: number,
): SearchResult {
  const count = problem.items.length;
  const ranked = problem.items.map((_, i) => i);
  let evaluations = 0;
  const evaluate = (order: readonly number[], size: number, ties: TieBreak): number => {
    evaluations++;
    return simulator.area(order, size, ties);
  };
  let best: SearchResult = {
    order: ranked,
    size: sizes[0] ?? 0,
    ties: 'rate',
    area: -Infinity,
    evaluations: 0,
  };
  const consider = (order: readonly number[], size: number, ties: TieBreak, area: number): void => {
    const least = best.area === -Infinity ? -Infinity : best.area + minImprovement * Math.abs(best.area);
    if (area > least) best = { order, size, ties, area, evaluations };
  };
  for (const size of sizes) consider(ranked, size, 'rate', evaluate(ranked, size, 'rate'));

  const climb = (from: readonly number[], size: number, ties: TieBreak, area: number): void => {
    let here = from;
    let height = area;
    for (let improved = true; improved && evaluations < budget;) {
      improved = false;
      for (let from = 1; from < count && evaluations < budget; from++) {
        for (let to = 0; to < Math.min(from, reach) && evaluations < budget; to++) {
          const order = withItemMoved(here, from, to);
          const value = evaluate(order, size, ties);
          if (!(value > height * (1 + 1e-9))) continue;
          here = order;
          height = value;
          improved = true;
        }
      }
    }
    consider(here, size, ties, height);
  };
  // Only the first places of the order can enter the set within four weeks, so only they are changed.
  const reach = Math.min(count, 16);
  climb(best.order, best.size, best.ties, best.area);
  const shake = seededRandom();
  while (evaluations < budget && count > 2) {
    let order = best.order;
    for (let swaps = 2 + shake(3); swaps > 0; swaps--)
      order = withItemMoved(order, shake(Math.min(count, reach)), shake(reach));
    const size = sizes[shake(sizes.length)]!;
    const ties = shake(2) === 0 ? 'rate' : 'order';
    const before = evaluations;
    climb(order, size, ties, evaluate(order, size, ties));
    if (evaluations === before) break;
  }
  return { ...best, evaluations };
}
