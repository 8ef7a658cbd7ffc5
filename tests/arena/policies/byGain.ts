/** Another way to hand out a session's blocks: each to the member of the set that gains most an hour at that moment. */
import { runToCompletion } from '../../../server/src/incremental/steps.ts';
import type { RankingOrder } from '../../../server/src/model/rank/rankingOrder.ts';
import type { RankInput } from '../../../server/src/model/index.ts';
import { createLevelDynamics } from '../../../server/src/model/week/levelDynamics.ts';
import { readLevelTable } from '../../../server/src/model/week/levelTable.ts';
import { planItemsInSteps } from '../../../server/src/model/week/planItems.ts';
import { daysSincePractice } from '../../../server/src/model/week/setFromLogs.ts';
import type { World } from '../world.ts';
import { longestWaitingFirst, mostADay } from './policy.ts';
import type { View } from './policy.ts';

/** What the blocks of a session are handed out by. */
export interface Session {
  readonly world: World;
  readonly view: View;
  readonly input: RankInput;
  readonly order: RankingOrder;
  /** Numbers of the members of the set that can be practised, those longest in it first. */
  readonly present: readonly number[];
}

/** Numbers of the techniques of a session's blocks, in order. It may remember the sessions before, so each runner has its own. */
export type HandOut = (session: Session) => number[];

/** Seconds that a technique gains an hour after so many blocks of today, by the tables of the product's planner. */
function gainsOf({ world, input, order }: Session): (skill: number, blocksToday: number) => number {
  const idle = daysSincePractice(input.logs.practice, input.asOfDay);
  const context = { pinned: new Set<string>(), standings: order.standings, idle, days: 1 };
  const items = runToCompletion(planItemsInSteps(input, order, context));
  const { constants } = order.prepared;
  const dynamics = createLevelDynamics({ items, minutes: [0], blockMinutes: world.blockMinutes, constants });
  const numbers = new Map(items.map(({ id }, i) => [id, i]));
  return (skill, blocksToday) => {
    const i = numbers.get(world.skills[skill]!.id)!;
    const { rate, readyLevel, opens } = items[i]!;
    const before = dynamics.start[i]!;
    const level = blocksToday === 0 ? before : dynamics.next(i, 0, before, blocksToday * world.blockMinutes);
    const own = readLevelTable(rate, level);
    return level >= readyLevel ? own : Math.max(own, opens);
  };
}

/**
 * First a block for each technique begun that had none in the last `sessions` sessions, those that have waited longest first;
 * then each block to what gains most, within the hour a day of each technique.
 *
 * @param sessions most sessions in a row in which a technique begun has no block; Infinity where it may wait for ever
 */
export function byGain(sessions: number): HandOut {
  const without = new Map<number, number>();
  return (session) => {
    const { world, view, present } = session;
    const gain = gainsOf(session);
    const today: number[] = [];
    const had = (skill: number): number => today.filter((other) => other === skill).length;
    const isDue = (skill: number): boolean =>
      view.tallies[skill]!.blocks.length > 0 && (without.get(skill) ?? 0) >= sessions;
    today.push(...longestWaitingFirst(present.filter(isDue), view.tallies).slice(0, view.blocks));
    while (today.length < view.blocks) {
      const open = present.filter((skill) => had(skill) < mostADay(world));
      const gains = open.map((skill) => gain(skill, had(skill)));
      const best = open[gains.indexOf(Math.max(...gains))];
      if (best === undefined) break;
      today.push(best);
    }
    for (const skill of present) without.set(skill, had(skill) > 0 ? 0 : (without.get(skill) ?? 0) + 1);
    return today;
  };
}
