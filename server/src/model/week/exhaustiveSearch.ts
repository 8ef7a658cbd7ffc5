/** Finds the best plan of a small problem by trying every choice that the rules allow. */
import { canItemEnter, markReady, renewSet, roundRobin, stateAtStart } from './planSimulator.ts';
import type { PlanSimulator, PlanState } from './planSimulator.ts';
import { minutesAvailable } from './allocateBlocks.ts';
import { readLevelTable } from './levelTable.ts';
import { membersAtStart } from './planProblem.ts';
import type { ScheduledDay, PlanProblem, Schedule } from './planProblem.ts';
import { sessionLimits } from './sessions.ts';

interface SearchState extends PlanState {
  readonly idleFor: readonly number[];
  readonly touched: readonly boolean[];
  readonly members: readonly number[];
  readonly begun: boolean;
}

function permutations(list: readonly number[]): number[][] {
  if (list.length < 2) return [[...list]];
  return list.flatMap((first, i) =>
    permutations(list.filter((_, j) => j !== i)).map((rest) => [first, ...rest]),
  );
}

/** Every set that the rules can give this morning, over all orders in which items outside the set are considered. */
function possibleSets(problem: PlanProblem, here: SearchState, size: number) {
  const currentMembers = here.begun ? here.members : membersAtStart(problem);
  const able = [...problem.items.keys()].filter(
    (i) => !currentMembers.includes(i) && canItemEnter(problem, i, here),
  );
  const seen = new Map<string, ReturnType<typeof renewSet>>();
  for (const order of permutations(able)) {
    const renewed = renewSet(problem, currentMembers, order, size, here);
    const key = `${[...renewed.members].sort().join()} ${renewed.left
      .map(({ item }) => item)
      .sort()
      .join()}`;
    if (!seen.has(key)) seen.set(key, renewed);
  }
  return [...seen.values()];
}

function combinations(list: readonly number[], count: number): number[][] {
  if (count <= 0) return [[]];
  return list.flatMap((first, i) =>
    combinations(list.slice(i + 1), count - 1).map((rest) => [first, ...rest]),
  );
}

/** Every allowed allocation of today's blocks. */
function blockAllocations(
  problem: PlanProblem,
  here: SearchState,
  members: readonly number[],
  day: number,
  blocks: number,
  length: number,
): number[][] {
  const able = members.filter((i) => minutesAvailable(problem, i, day) >= length);
  if (blocks <= able.length) {
    // Among those that have been without practice for equally long, those to be worked on again come first.
    const turn = (i: number): number => 2 * here.idleFor[i]! + Number(problem.items[i]!.again);
    const turns = able.map(turn).sort((a, b) => b - a);
    const last = turns[blocks - 1] ?? 0;
    const sure = able.filter((i) => turn(i) > last);
    const tied = able.filter((i) => turn(i) === last);
    return combinations(tied, blocks - sure.length).map((rest) => [...sure, ...rest]);
  }
  const most = (i: number): number => Math.floor(minutesAvailable(problem, i, day) / length);
  let rounds = [able.map(() => 1)];
  for (let extra = blocks - able.length; extra > 0; extra--) {
    const next = new Map<string, number[]>();
    for (const counts of rounds) {
      counts.forEach((n, k) => {
        // As in `allocateBlocks`: no item gets another block before every other item that can take one has as many.
        const fewest = Math.min(...counts.map((c, j) => (c < most(able[j]!) ? c : Infinity)));
        if (n >= most(able[k]!) || n > fewest) return;
        const grown = counts.map((c, j) => (j === k ? c + 1 : c));
        next.set(grown.join(), grown);
      });
    }
    if (next.size === 0) break;
    rounds = [...next.values()];
  }
  return rounds.map((counts) => roundRobin(able, (i) => counts[able.indexOf(i)]!));
}

/**
 * The plan with the greatest area, or null if more than `budget` days would have to be computed. For each size of
 * the set it tries every set that the rule for leaving allows and every allocation of blocks.
 */
export function exhaustiveSearch(
  problem: PlanProblem,
  simulator: PlanSimulator,
  sizes: readonly number[],
  budget: number,
): { readonly schedule: Schedule; readonly days: number } | null {
  const { items, minutes } = problem;
  // All orders of the items outside the set are tried; with more than six techniques there are too many.
  if (items.length > 6) return null;
  let looked = 0;
  let best: Schedule | null = null;
  const visit = (
    here: SearchState,
    d: number,
    size: number,
    area: number,
    days: readonly ScheduledDay[],
  ): void => {
    if (looked > budget) return;
    if (d === minutes.length) {
      if (best === null || area > best.area) best = { days, size, area };
      return;
    }
    looked++;
    const morning: SearchState = {
      ...here,
      ready: here.ready.slice(),
    };
    markReady(problem, morning);
    const step = (from: SearchState, planned: ScheduledDay): void => {
      const level = Float64Array.from(items, (_, i) => {
        const practised = planned.blocks.filter((b) => b === i).length * planned.length;
        return simulator.dynamics.next(i, d, from.level[i]!, practised);
      });
      const touched = from.touched.map((was, i) => was || planned.blocks.includes(i));
      const blocksHad = from.blocksHad.map((n, i) => n + planned.blocks.filter((b) => b === i).length);
      const idleFor = from.idleFor.map((n, i) => (planned.blocks.includes(i) ? 0 : n + 1));
      let gain = 0;
      items.forEach(({ saved }, i) => {
        if (touched[i]) gain += readLevelTable(saved, level[i]!) - simulator.dynamics.idle[i]![d]!;
      });
      visit({ ...from, level, touched, idleFor, blocksHad }, d + 1, size, area + gain, [...days, planned]);
    };
    if (simulator.shape(d, sessionLimits.set).blocks === 0) {
      step(morning, { members: here.members, left: [], blocks: [], length: 0 });
      return;
    }
    for (const { members, left } of possibleSets(problem, morning, size)) {
      const gone = morning.gone.slice();
      for (const { item } of left) gone[item] = 1;
      const { blocks, length } = simulator.shapeFor(d, members);
      for (const handed of blockAllocations(problem, morning, members, d, blocks, length)) {
        step({ ...morning, gone, members, begun: true }, { members, left, blocks: handed, length });
      }
    }
  };
  for (const size of sizes) {
    const start: SearchState = {
      ...stateAtStart(problem, simulator.dynamics),
      idleFor: items.map(({ idleDays }) => idleDays),
      touched: items.map(() => false),
      members: [],
      begun: false,
    };
    visit(start, 0, size, 0, []);
  }
  return best === null || looked > budget ? null : { schedule: best, days: looked };
}
