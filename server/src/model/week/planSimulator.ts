/**
 * Simulates a plan day by day by the rules of the week, for a given order in which techniques enter the set. The
 * plan follows every rule for any order, so the search only has to choose among orders.
 */
import { choosePracticeSet } from './practiceSet.ts';
import type { SetCandidate } from './practiceSet.ts';
import { readLevelTable } from './levelTable.ts';
import { allocateBlocks, minutesAvailable } from './allocateBlocks.ts';
import type { TieBreak } from './allocateBlocks.ts';
import { blocksUntilCompetentAgain, membersAtStart } from './planProblem.ts';
import type { ScheduledDay, PlanProblem, Schedule } from './planProblem.ts';
import { createAreaEvaluator } from './areaEvaluator.ts';
import { emptySession, fitSession, fitSessionToRooms, sessionLimits } from './sessions.ts';
import type { SessionShape } from './sessions.ts';
import { createLevelDynamics } from './levelDynamics.ts';
import type { LevelDynamics } from './levelDynamics.ts';

/** Simulates plans of one problem. Its tables are computed once and used for every order. */
export interface PlanSimulator {
  readonly dynamics: LevelDynamics;
  /** The blocks of a day for a number of techniques of which none was practised that day. */
  readonly shape: (day: number, techniques: number) => SessionShape;
  /** The blocks of a day for the members of the set; on the first day some may have been practised already. */
  readonly shapeFor: (day: number, members: readonly number[]) => SessionShape;
  /** Whether some items were practised on the first day already. */
  readonly anyPractisedToday: boolean;
  /** Area of the plan for an order of the items and a size of the set. */
  readonly area: (order: readonly number[], size: number, ties?: TieBreak) => number;
  /** The same plan with all its days. */
  readonly plan: (order: readonly number[], size: number, ties?: TieBreak) => Schedule;
}

/** The state of the items on one morning of a plan. */
export interface PlanState {
  readonly level: Float64Array;
  /** 1 if the item has been ready at some time; it then stays ready. */
  readonly ready: Uint8Array;
  /** 1 if the item has left the set; it then stays out of it. */
  readonly gone: Uint8Array;
  /** Blocks of the plan that the item has had. */
  readonly blocksHad: Uint16Array;
}

/** The state before the first morning: nothing is marked as ready yet. */
export function stateAtStart({ items }: PlanProblem, { start }: LevelDynamics): PlanState {
  return {
    level: start.slice(),
    ready: new Uint8Array(items.length),
    gone: new Uint8Array(items.length),
    blocksHad: new Uint16Array(items.length),
  };
}

/**
 * Gain in seconds per hour of an item at its level; includes the gain of the techniques that need it until it is
 * ready.
 */
export function itemRate(problem: PlanProblem, item: number, { level, ready }: PlanState): number {
  const { rate, opens } = problem.items[item]!;
  const own = readLevelTable(rate, level[item]!);
  return ready[item] === 1 ? own : Math.max(own, opens);
}

/** Whether everything that an item needs is ready. */
function areNeedsReady(problem: PlanProblem, item: number, { ready }: PlanState): boolean {
  return problem.items[item]!.needs.every((need) => ready[need] === 1);
}

/** Marks the items that have become ready. */
export function markReady(problem: PlanProblem, at: PlanState): void {
  problem.items.forEach(({ readyLevel }, i) => {
    if (at.level[i]! >= readyLevel) at.ready[i] = 1;
  });
}

/** Whether an item counts as competent, so that it may leave the set and seldom enters it. */
function isItemCompetent({ items }: PlanProblem, item: number, { level, blocksHad }: PlanState): boolean {
  const { again, competentLevel } = items[item]!;
  if (again && blocksHad[item]! < blocksUntilCompetentAgain) return false;
  return level[item]! >= competentLevel;
}

/** Whether an item outside the set may enter it at some time. */
function mayItemEnter({ items }: PlanProblem, item: number, { gone }: PlanState): boolean {
  return gone[item] === 0 && (items[item]!.mayEnter || items[item]!.pinned);
}

/** Whether an item outside the set can take a free place this morning; a competent one does so only at times. */
export function canItemEnter(problem: PlanProblem, item: number, at: PlanState): boolean {
  if (!mayItemEnter(problem, item, at) || !areNeedsReady(problem, item, at)) return false;
  return problem.items[item]!.pinned || itemRate(problem, item, at) > 0;
}

/** Whether it takes a free place this morning for certain, if no other takes it before. */
export function takesFreePlace(problem: PlanProblem, item: number, at: PlanState): boolean {
  if (!canItemEnter(problem, item, at)) return false;
  return problem.items[item]!.pinned || !isItemCompetent(problem, item, at);
}

/** The set for today's session, and the items that left it. Items outside the set are considered in the given order. */
export function renewSet(
  problem: PlanProblem,
  members: readonly number[],
  order: readonly number[],
  size: number,
  at: PlanState,
): { readonly members: readonly number[]; readonly left: ScheduledDay['left'] } {
  const { items } = problem;
  const numbers = new Map(items.map(({ id }, i) => [id, i]));
  const inside = new Set(members);
  const candidateOf = (i: number): SetCandidate => ({
    technique: items[i]!.id,
    // A pinned item never leaves, and comes before all others.
    rate: items[i]!.pinned ? Number.MAX_VALUE : itemRate(problem, i, at),
    competent: !items[i]!.pinned && isItemCompetent(problem, i, at),
    open: areNeedsReady(problem, i, at),
  });
  const outside = order.filter((i) => !inside.has(i) && mayItemEnter(problem, i, at));
  const pinsFirst = [...outside.filter((i) => items[i]!.pinned), ...outside.filter((i) => !items[i]!.pinned)];
  const chosen = choosePracticeSet({
    candidates: [...members, ...pinsFirst].map(candidateOf),
    currentMembers: members.map((i) => items[i]!.id),
    size,
  });
  return {
    members: chosen.members.map((id) => numbers.get(id)!),
    left: chosen.departures.map(({ technique, replacedBy }) => ({
      item: numbers.get(technique)!,
      replacedBy: replacedBy === null ? null : numbers.get(replacedBy)!,
    })),
  };
}

/**
 * Orders blocks in rounds, techniques with more blocks first, so that no technique has two blocks in a row.
 *
 * @example
 * roundRobin([4, 7], (item) => (item === 4 ? 2 : 1)) // [4, 7, 4]
 */
export function roundRobin(techniques: readonly number[], blocksOf: (item: number) => number): number[] {
  const sorted = [...techniques].sort((a, b) => blocksOf(b) - blocksOf(a));
  const rounds = sorted.length > 0 ? blocksOf(sorted[0]!) : 0;
  return Array.from({ length: rounds }, (_, round) => sorted.filter((i) => blocksOf(i) > round)).flat();
}

export function createPlanSimulator(problem: PlanProblem): PlanSimulator {
  const { items, minutes } = problem;
  const dynamics = createLevelDynamics(problem);
  const shapes = new Map<number, SessionShape>();
  const shape = (day: number, techniques: number): SessionShape => {
    const key = day * 64 + techniques;
    let cached = shapes.get(key);
    if (cached === undefined) {
      cached =
        (minutes[day] ?? 0) > 0 ? fitSession(minutes[day]!, problem.blockMinutes, techniques) : emptySession;
      shapes.set(key, cached);
    }
    return cached;
  };
  const anyPractisedToday = items.some(({ minutesToday }) => minutesToday > 0);
  const shapeFor = (day: number, members: readonly number[]): SessionShape => {
    if (day > 0 || !anyPractisedToday) return shape(day, members.length);
    const rooms = members.map((i) => minutesAvailable(problem, i, day));
    return fitSessionToRooms(minutes[0]!, problem.blockMinutes, rooms);
  };
  const count = items.length;
  const currentMembers = membersAtStart(problem);

  const plan = (order: readonly number[], size: number, ties: TieBreak): Schedule => {
    const at = stateAtStart(problem, dynamics);
    const place = new Uint16Array(count);
    order.forEach((item, n) => (place[item] = n));
    const idleFor = items.map(({ idleDays }) => idleDays);
    const touched = new Uint8Array(count);
    const days: ScheduledDay[] = [];
    let members: readonly number[] = currentMembers;
    let begun = false;
    let area = 0;
    for (let d = 0; d < minutes.length; d++) {
      markReady(problem, at);
      let left: ScheduledDay['left'] = [];
      let blocks: readonly number[] = [];
      let length = 0;
      const today = new Uint8Array(count);
      if (shape(d, sessionLimits.set).blocks > 0) {
        ({ members, left } = renewSet(problem, members, order, size, at));
        for (const { item } of left) at.gone[item] = 1;
        begun = true;
        const of = shapeFor(d, members);
        const rates = Float64Array.from(items, (_, i) => itemRate(problem, i, at));
        const turns = { ...at, rates, place, idleFor: (i: number) => idleFor[i]! };
        const first = allocateBlocks(problem, dynamics, members, d, of, ties, turns, today);
        blocks = roundRobin(first, (i) => today[i]!);
        length = of.length;
      }
      days.push({ members: begun ? members : [], left, blocks, length });
      for (let i = 0; i < count; i++) {
        const practised = today[i]! * length;
        at.blocksHad[i]! += today[i]!;
        idleFor[i] = practised > 0 ? 0 : idleFor[i]! + 1;
        if (practised > 0) touched[i] = 1;
        at.level[i] = dynamics.next(i, d, at.level[i]!, practised);
        if (touched[i] === 1) area += readLevelTable(items[i]!.saved, at.level[i]!) - dynamics.idle[i]![d]!;
      }
    }
    return { days, size, area };
  };

  const area = createAreaEvaluator(problem, dynamics, shape, shapeFor);
  return {
    dynamics,
    shape,
    shapeFor,
    anyPractisedToday,
    area: (order, size, ties = 'rate') => area(order, size, ties),
    plan: (order, size, ties = 'rate') => plan(order, size, ties),
  };
}
