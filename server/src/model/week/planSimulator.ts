/**
 * Follows the rules of the week day by day, given the order in which techniques are to enter the set. Whatever the
 * order, the plan that comes out keeps every rule: the search only chooses among orders.
 */
import { practiceSet } from '../rank/practiceSet.ts';
import type { Standing } from '../rank/practiceSet.ts';
import { readLevel } from './levelTable.ts';
import { handOut } from './allocateBlocks.ts';
import type { Ties } from './allocateBlocks.ts';
import type { PlannedDay, PlanProblem, Schedule } from './planProblem.ts';
import { areaFinder } from './areaEvaluator.ts';
import { limits, noBlocks, shapeOf } from './sessions.ts';
import type { Shape } from './sessions.ts';
import { walker } from './levelDynamics.ts';
import type { Walker } from './levelDynamics.ts';

/** Plans of one problem; its tables are made once and serve for every order. */
export interface Follower {
  readonly walk: Walker;
  /** Blocks of a day when so many techniques share it. */
  readonly shape: (day: number, techniques: number) => Shape;
  /** Area of the plan for an order of the items and a size of the set. */
  readonly area: (order: readonly number[], size: number, ties?: Ties) => number;
  /** The same plan written out. */
  readonly plan: (order: readonly number[], size: number, ties?: Ties) => Schedule;
}

/** Where the items stand on some morning of a plan. */
export interface Standings {
  readonly level: Float64Array;
  /** 1 for what has been ready once: it stays so. */
  readonly ready: Uint8Array;
  /** Days for which what has left the set still stays out of it. */
  readonly gone: Uint8Array;
}

/** Seconds per hour at which an item stands at its level; counted with what it opens until it is ready. */
export function rateAt(problem: PlanProblem, item: number, { level, ready }: Standings): number {
  const { rate, opens } = problem.items[item]!;
  const own = readLevel(rate, level[item]!);
  return ready[item] === 1 ? own : Math.max(own, opens);
}

/** Whether everything that an item needs is ready. */
export function isOpen(problem: PlanProblem, item: number, { ready }: Standings): boolean {
  return problem.items[item]!.needs.every((need) => ready[need] === 1);
}

/** Notes which items have become ready. */
export function noteReady(problem: PlanProblem, at: Standings): void {
  problem.items.forEach(({ readyLevel }, i) => {
    if (at.level[i]! >= readyLevel) at.ready[i] = 1;
  });
}

/** The set for today's session, and who left it. Outsiders are looked at in the order given. */
export function renew(
  problem: PlanProblem,
  members: readonly number[],
  order: readonly number[],
  size: number,
  at: Standings,
): { readonly members: readonly number[]; readonly left: PlannedDay['left'] } {
  const { items } = problem;
  const numbers = new Map(items.map(({ id }, i) => [id, i]));
  const isCompetent = (i: number): boolean => at.level[i]! >= items[i]!.competentLevel;
  const inside = new Set(members);
  const standing = (i: number): Standing => ({
    technique: items[i]!.id,
    // A pinned one is held whatever its rate, and comes before all others.
    rate: items[i]!.pinned ? Number.MAX_VALUE : rateAt(problem, i, at),
    competent: !items[i]!.pinned && isCompetent(i),
    open: isOpen(problem, i, at),
  });
  const outside = order.filter((i) => !inside.has(i) && at.gone[i] === 0);
  const pinsFirst = [...outside.filter((i) => items[i]!.pinned), ...outside.filter((i) => !items[i]!.pinned)];
  const chosen = practiceSet({
    standings: [...members, ...pinsFirst].map(standing),
    carried: members.map((i) => items[i]!.id),
    size,
    leavingShare: problem.leavingShare,
  });
  // Who is only passed over on the morning of entering was never in the set: the last in the chain took the place.
  const heirs = new Map<number, number>();
  for (const { technique, replacedBy } of chosen.left) {
    const item = numbers.get(technique)!;
    const heir = numbers.get(replacedBy)!;
    const before = inside.has(item) ? item : [...heirs].find(([, taken]) => taken === item)?.[0];
    if (before !== undefined) heirs.set(before, heir);
  }
  return {
    members: chosen.members.map((id) => numbers.get(id)!),
    left: [...heirs].map(([item, replacedBy]) => ({ item, replacedBy, competent: isCompetent(item) })),
  };
}

/** Blocks in turn, those with most of them first, so that no technique comes twice in a row. */
export function inTurn(techniques: readonly number[], blocksOf: (item: number) => number): number[] {
  const sorted = [...techniques].sort((a, b) => blocksOf(b) - blocksOf(a));
  const rounds = sorted.length > 0 ? blocksOf(sorted[0]!) : 0;
  return Array.from({ length: rounds }, (_, round) => sorted.filter((i) => blocksOf(i) > round)).flat();
}

export function follower(problem: PlanProblem): Follower {
  const { items, minutes } = problem;
  const walk = walker(problem);
  const shapes = new Map<number, Shape>();
  const shape = (day: number, techniques: number): Shape => {
    const key = day * 64 + techniques;
    let known = shapes.get(key);
    if (known === undefined) {
      known = (minutes[day] ?? 0) > 0 ? shapeOf(minutes[day]!, problem.blockMinutes, techniques) : noBlocks;
      shapes.set(key, known);
    }
    return known;
  };
  const count = items.length;
  const carriedItems = [...items.keys()].filter((i) => items[i]!.carried);

  const plan = (order: readonly number[], size: number, ties: Ties): Schedule => {
    const at: Standings = {
      level: Float64Array.from(walk.start),
      ready: new Uint8Array(count),
      gone: new Uint8Array(count),
    };
    const place = new Uint16Array(count);
    order.forEach((item, n) => (place[item] = n));
    const idleFor = items.map(({ idleDays }) => idleDays);
    const touched = new Uint8Array(count);
    const days: PlannedDay[] = [];
    let members: readonly number[] = carriedItems;
    let begun = false;
    let area = 0;
    for (let d = 0; d < minutes.length; d++) {
      noteReady(problem, at);
      for (let i = 0; i < count; i++) if (at.gone[i]! > 0) at.gone[i]!--;
      let left: PlannedDay['left'] = [];
      let blocks: readonly number[] = [];
      let length = 0;
      const today = new Uint8Array(count);
      if (shape(d, limits.set).blocks > 0) {
        ({ members, left } = renew(problem, members, order, size, at));
        for (const { item } of left) at.gone[item] = limits.away;
        begun = true;
        const of = shape(d, members.length);
        const rates = Float64Array.from(items, (_, i) => rateAt(problem, i, at));
        const turns = { ...at, rates, place, idleFor: (i: number) => idleFor[i]! };
        const first = handOut(problem, walk, members, d, of, ties, turns, today);
        blocks = inTurn(first, (i) => today[i]!);
        length = of.length;
      }
      days.push({ members: begun ? members : [], left, blocks, length });
      for (let i = 0; i < count; i++) {
        const made = today[i]! * length;
        idleFor[i] = made > 0 ? 0 : idleFor[i]! + 1;
        if (made > 0) touched[i] = 1;
        at.level[i] = walk.next(i, d, at.level[i]!, made);
        if (touched[i] === 1) area += readLevel(items[i]!.saved, at.level[i]!) - walk.idle[i]![d]!;
      }
    }
    return { days, size, area };
  };

  const area = areaFinder(problem, walk, shape);
  return {
    walk,
    shape,
    area: (order, size, ties = 'rate') => area(order, size, ties),
    plan: (order, size, ties = 'rate') => plan(order, size, ties),
  };
}
