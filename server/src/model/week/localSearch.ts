/**
 * Improves a plan by local search, starting from the order of the ranking and changing the order in which
 * techniques enter the set.
 */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { itemRate, stateAtStart, type PlanSimulator } from './planSimulator.ts';
import type { TieBreak } from './allocateBlocks.ts';
import type { PlanProblem } from './planProblem.ts';
import { competentEnters } from './practiceSet.ts';

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

function withItemsExchanged(order: readonly number[], a: number, b: number): number[] {
  const next = [...order];
  [next[a], next[b]] = [next[b]!, next[a]!];
  return next;
}

/** The items that can be in the set at some time; of the competent ones outside those that could come in today. */
function likelyMembers(problem: PlanProblem, { dynamics }: PlanSimulator): (i: number) => boolean {
  const { items } = problem;
  const start = stateAtStart(problem, dynamics);
  const rates = items.map((_, i) => itemRate(problem, i, start));
  const isCompetent = items.map(({ competentLevel }, i) => start.level[i]! >= competentLevel);
  const newcomers = rates.filter((rate, i) => {
    const { inSetAtStart, mayEnter } = items[i]!;
    return rate > 0 && !inSetAtStart && mayEnter && !isCompetent[i]!;
  });
  const least = newcomers.length > 0 ? Math.min(...newcomers) : 0;
  return (i) => {
    const { inSetAtStart, mayEnter, pinned } = items[i]!;
    if (inSetAtStart || pinned) return true;
    return mayEnter && (!isCompetent[i]! || competentEnters(rates[i]!, least));
  };
}

/** Only the first places of an order can enter the set within four weeks, so others are only moved to them. */
const reach = 24;

/** Plans for each technique that bring no improvement before the search starts anew near the best. */
const patience = 2;
/** One in so many neighbours has the other way to break ties, and one in as many another size of the set. */
const tiesEvery = 15;

/**
 * Searches orders of entry by random ascent: starts from the ranking and moves one technique to another place, or
 * exchanges two, and keeps what raises the area. Places near the front are tried more often. Stops after `budget`
 * plans. (Moving each technique to each place in turn found orders with 1.5 % less area for the same number of
 * plans.)
 */
export const localSearch = inOneGo(localSearchInSteps);

/** The same, each plan in a step. */
export function* localSearchInSteps(
  problem: PlanProblem,
  simulator: PlanSimulator,
  sizes: readonly number[],
  budget: number,
): Steps<SearchResult> {
  const ranked = problem.items.map((_, i) => i);
  let evaluations = 0;
  const evaluate = (order: readonly number[], size: number, ties: TieBreak): SearchResult => {
    evaluations++;
    return { order, size, ties, area: simulator.area(order, size, ties), evaluations };
  };
  const isBetter = (one: SearchResult, other: SearchResult, share: number): boolean =>
    one.area > other.area + share * Math.abs(other.area);

  let byRank: SearchResult = {
    order: ranked,
    size: sizes[0] ?? 0,
    ties: 'rate',
    area: -Infinity,
    evaluations: 0,
  };
  for (const size of sizes) {
    const found = evaluate(ranked, size, 'rate');
    yield;
    if (byRank.area === -Infinity || isBetter(found, byRank, minImprovement)) byRank = found;
  }
  // Those that are not likely ever to be in the set come last in every order but that of the ranking.
  const able = likelyMembers(problem, simulator);
  const moving = ranked.filter(able);
  const count = moving.length;
  if (sizes.length === 0 || count < 2) return { ...byRank, evaluations };

  const random = seededRandom();
  const nearFront = (places: number): number => Math.min(random(places), random(places));
  const neighbour = ({ order, size, ties }: SearchResult): SearchResult | undefined => {
    const kind = random(tiesEvery);
    if (kind === 0) return evaluate(order, size, ties === 'rate' ? 'order' : 'rate');
    if (kind === 1 && sizes.length > 1) return evaluate(order, sizes[random(sizes.length)]!, ties);
    const [a, b] = [nearFront(count), nearFront(Math.min(count, reach))];
    if (a === b) return undefined;
    const next = kind % 2 === 0 ? withItemMoved(order, a, b) : withItemsExchanged(order, a, b);
    return evaluate(next, size, ties);
  };
  let best: SearchResult = { ...byRank, order: [...moving, ...ranked.filter((i) => !able(i))] };
  let here = best;
  let sinceBetter = 0;
  // A neighbour that is the same order costs no plan; there are at most a few for each that does.
  for (let tries = 0; evaluations < budget && tries < 4 * budget; tries++) {
    const next = neighbour(here);
    yield;
    if (next === undefined) continue;
    if (isBetter(next, here, 1e-9)) {
      here = next;
      sinceBetter = 0;
    } else if (++sinceBetter > patience * count) {
      // From the best order so far, a few moves whatever they cost, and up again.
      here = best;
      for (let moves = 0; moves < 2 && evaluations < budget; moves++) here = neighbour(here) ?? here;
      sinceBetter = 0;
    }
    if (isBetter(here, best, 1e-9)) best = here;
  }
  return { ...(isBetter(best, byRank, minImprovement) ? best : byRank), evaluations };
}
