/** Hands out the blocks of one day among the techniques in the set. */
import { readLevelTable } from './levelTable.ts';
import type { PlanProblem } from './planProblem.ts';
import { sessionLimits } from './sessions.ts';
import type { SessionShape } from './sessions.ts';
import type { LevelDynamics } from './levelDynamics.ts';

/** Whose turn it is on a short day among those unpractised for as long: the highest rate's, or the first's in order. */
export type TieBreak = 'rate' | 'order';

/** What decides the turns of a day; rows are read for members of the set only. */
export interface TurnOrder {
  readonly level: ArrayLike<number>;
  readonly ready: ArrayLike<number>;
  /** Seconds per hour, as the rule of leaving sees it. */
  readonly rates: ArrayLike<number>;
  /** Place in the order of entry. */
  readonly place: ArrayLike<number>;
  /** Days since the last practice. */
  readonly idleFor: (item: number) => number;
}

/** Minutes of an item that still fit into a day. */
export function minutesAvailable(problem: PlanProblem, item: number, day: number): number {
  return sessionLimits.onOne - (day === 0 ? problem.items[item]!.minutesToday : 0);
}

/**
 * Each member once, on a short day those longest unpractised; on a long one the rest again.
 *
 * @param today takes the number of blocks of each item; must hold zeros
 * @returns who has a block, in turn
 */
export function allocateBlocks(
  problem: PlanProblem,
  walk: LevelDynamics,
  members: readonly number[],
  day: number,
  { blocks, length }: SessionShape,
  ties: TieBreak,
  at: TurnOrder,
  today: Uint8Array,
): number[] {
  const { items } = problem;
  const before = (a: number, b: number): number =>
    ties === 'order' ? at.place[a]! - at.place[b]! : at.rates[b]! - at.rates[a]! || a - b;
  const first = members.filter((i) => minutesAvailable(problem, i, day) >= length);
  first.sort((a, b) => at.idleFor(b) - at.idleFor(a) || before(a, b));
  if (first.length > blocks) first.length = blocks;
  for (const i of first) today[i] = 1;
  for (let made = first.length; made < blocks; made++) {
    let best = -1;
    let most = -Infinity;
    for (const i of first) {
      if ((today[i]! + 1) * length > minutesAvailable(problem, i, day)) continue;
      // Another round for all before a third block for one.
      const rounds = best < 0 ? Infinity : today[best]!;
      if (today[i]! > rounds) continue;
      const level = walk.next(i, day, at.level[i]!, today[i]! * length);
      const own = readLevelTable(items[i]!.rate, level);
      const worth = at.ready[i] === 1 ? own : Math.max(own, items[i]!.opens);
      if (today[i]! === rounds && worth <= most) continue;
      most = worth;
      best = i;
    }
    if (best < 0) break;
    today[best]!++;
  }
  return first;
}
