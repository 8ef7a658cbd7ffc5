/** Divides the blocks of one day among the techniques in the set. */
import { readLevelTable } from './levelTable.ts';
import type { PlanProblem } from './planProblem.ts';
import { sessionLimits } from './sessions.ts';
import type { SessionShape } from './sessions.ts';
import type { LevelDynamics } from './levelDynamics.ts';

/**
 * Which technique gets a block on a short day if several have been without practice for equally long, after those to
 * be worked on again: the one with the highest rate, or the first in the order of entry.
 */
export type TieBreak = 'rate' | 'order';

/** The values that decide the turns of a day. Only those of members of the set are read. */
export interface TurnOrder {
  readonly level: ArrayLike<number>;
  readonly ready: ArrayLike<number>;
  /** Gain in seconds per hour, as used for the order of the items. */
  readonly rates: ArrayLike<number>;
  /** Place in the order of entry. */
  readonly place: ArrayLike<number>;
  /** Days since the last practice. */
  readonly idleFor: (item: number) => number;
}

/** Minutes of an item that are still allowed on a day. */
export function minutesAvailable(problem: PlanProblem, item: number, day: number): number {
  return sessionLimits.onOne - (day === 0 ? problem.items[item]!.minutesToday : 0);
}

/**
 * Gives each member one block; on a short day only those that have been without practice longest. On a long day the
 * remaining blocks are further rounds.
 *
 * @param today receives the number of blocks of each item; must contain zeros
 * @returns the items that have a block, in order of their turns
 */
export function allocateBlocks(
  problem: PlanProblem,
  dynamics: LevelDynamics,
  members: readonly number[],
  day: number,
  { blocks, length }: SessionShape,
  ties: TieBreak,
  at: TurnOrder,
  today: Uint8Array,
): number[] {
  const { items } = problem;
  const againFirst = (a: number, b: number): number => Number(items[b]!.again) - Number(items[a]!.again);
  const before = (a: number, b: number): number =>
    againFirst(a, b) ||
    (ties === 'order' ? at.place[a]! - at.place[b]! : at.rates[b]! - at.rates[a]! || a - b);
  const first = members.filter((i) => minutesAvailable(problem, i, day) >= length);
  first.sort((a, b) => at.idleFor(b) - at.idleFor(a) || before(a, b));
  if (first.length > blocks) first.length = blocks;
  for (const i of first) today[i] = 1;
  for (let allocated = first.length; allocated < blocks; allocated++) {
    let best = -1;
    let most = -Infinity;
    for (const i of first) {
      if ((today[i]! + 1) * length > minutesAvailable(problem, i, day)) continue;
      // No member gets another block before every other member that can take one has as many.
      const rounds = best < 0 ? Infinity : today[best]!;
      if (today[i]! > rounds) continue;
      const level = dynamics.next(i, day, at.level[i]!, today[i]! * length);
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
