/**
 * Follows the rules of the week day by day, given the order in which techniques are to enter the set. Whatever the
 * order, the plan that comes out keeps every rule: the search only chooses among orders.
 */
import { practiceSet } from '../set.ts';
import type { Standing } from '../set.ts';
import { readLevel } from './levelTable.ts';
import type { PlannedDay, PlanProblem, Schedule } from './problem.ts';
import { limits, noBlocks, shapeOf } from './sessions.ts';
import type { Shape } from './sessions.ts';
import { walker } from './walk.ts';
import type { Walker } from './walk.ts';

/** Whose turn it is on a short day among those unpractised for as long: the highest rate's, or the first's in order. */
export type Ties = 'rate' | 'order';

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

/** Minutes of an item that still fit into a day. */
export function roomToday(problem: PlanProblem, item: number, day: number): number {
  return limits.onOne - (day === 0 ? problem.items[item]!.minutesToday : 0);
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
  const at: Standings = {
    level: new Float64Array(count),
    ready: new Uint8Array(count),
    gone: new Uint8Array(count),
  };
  const touched = new Uint8Array(count);
  const idleFor = new Float64Array(count);
  const today = new Uint8Array(count);
  const place = new Uint16Array(count);
  const carriedItems = [...items.keys()].filter((i) => items[i]!.carried);
  const kept = 2 ** (-1 / problem.constants.halfLife);

  const hasNeeds = items.map(({ needs }) => needs.length > 0);
  const rates = new Float64Array(count);
  const inside = new Uint8Array(count);
  const entered = new Uint8Array(count);
  /** A member's rate as the rule of leaving weighs it. */
  const held = (i: number): number => {
    if (items[i]!.pinned) return Infinity;
    return rates[i]! / (at.level[i]! >= items[i]!.competentLevel ? 1 : problem.leavingShare);
  };
  /** The same as `renew` from the second session on, on numbers alone: it is asked thousands of times. */
  const renewQuickly = (members: number[], order: readonly number[], size: number): void => {
    for (let i = 0; i < count; i++) rates[i] = items[i]!.pinned ? Number.MAX_VALUE : rateAt(problem, i, at);
    inside.fill(0);
    entered.fill(0);
    for (const i of members) inside[i] = 1;
    let weakest = -1;
    let least = Infinity;
    const weigh = (): void => {
      weakest = 0;
      least = Infinity;
      members.forEach((i, m) => {
        const value = held(i);
        if (m > 0 && value >= least) return;
        weakest = m;
        least = value;
      });
    };
    weigh();
    for (const pins of anyPinned ? [true, false] : [false]) {
      for (const i of order) {
        if (items[i]!.pinned !== pins || inside[i] === 1 || at.gone[i]! > 0 || !(rates[i]! > 0)) continue;
        if (members.length >= size && least >= rates[i]!) continue;
        if (hasNeeds[i] === true && !isOpen(problem, i, at)) continue;
        if (members.length >= size) {
          const [gone] = members.splice(weakest, 1);
          if (entered[gone!] === 0) at.gone[gone!] = limits.away;
        }
        members.push(i);
        inside[i] = 1;
        entered[i] = 1;
        weigh();
      }
    }
  };
  const anyPinned = items.some(({ pinned }) => pinned);

  /** Blocks of today: each member once, in turn; on a short day those longest unpractised; on a long one the rest again. */
  const blocksToday = (
    members: readonly number[],
    day: number,
    { blocks, length }: Shape,
    ties: Ties,
  ): number[] => {
    const before = (a: number, b: number): number =>
      ties === 'order' ? place[a]! - place[b]! : rateAt(problem, b, at) - rateAt(problem, a, at) || a - b;
    const first = [...members]
      .filter((i) => roomToday(problem, i, day) >= length)
      .sort((a, b) => idleFor[b]! - idleFor[a]! || before(a, b))
      .slice(0, blocks);
    today.fill(0);
    for (const i of first) today[i] = 1;
    for (let made = first.length; made < blocks; made++) {
      let best = -1;
      let most = -Infinity;
      for (const i of first) {
        if ((today[i]! + 1) * length > roomToday(problem, i, day)) continue;
        // Another round for all before a third block for one.
        const level = walk.next(i, day, at.level[i]!, today[i]! * length);
        const own = readLevel(items[i]!.rate, level);
        const worth = at.ready[i] === 1 ? own : Math.max(own, items[i]!.opens);
        const rounds = best < 0 ? Infinity : today[best]!;
        if (today[i]! > rounds || (today[i]! === rounds && worth <= most)) continue;
        most = worth;
        best = i;
      }
      if (best < 0) break;
      today[best]!++;
    }
    return inTurn(first, (i) => today[i]!);
  };

  const follow = (order: readonly number[], size: number, ties: Ties, days?: PlannedDay[]): number => {
    order.forEach((item, n) => (place[item] = n));
    at.level.set(walk.start);
    at.ready.fill(0);
    at.gone.fill(0);
    touched.fill(0);
    let members: number[] = [];
    let begun = false;
    let area = 0;
    for (let i = 0; i < count; i++) idleFor[i] = items[i]!.idleDays;
    for (let d = 0; d < minutes.length; d++) {
      noteReady(problem, at);
      for (let i = 0; i < count; i++) if (at.gone[i]! > 0) at.gone[i]!--;
      let left: PlannedDay['left'] = [];
      let blocks: readonly number[] = [];
      let length = 0;
      if (shape(d, limits.set).blocks > 0) {
        if (begun && days === undefined) {
          renewQuickly(members, order, size);
        } else {
          const carried = begun ? members : carriedItems;
          const renewed = renew(problem, carried, order, size, at);
          members = [...renewed.members];
          left = renewed.left;
          for (const { item } of left) at.gone[item] = limits.away;
          begun = true;
        }
        const today = shape(d, members.length);
        blocks = blocksToday(members, d, today, ties);
        length = today.length;
      }
      days?.push({ members, left, blocks, length });
      today.fill(0);
      for (const i of blocks) today[i]!++;
      for (let i = 0; i < count; i++) {
        const made = today[i]! * length;
        idleFor[i] = made > 0 ? 0 : idleFor[i]! + 1;
        if (made > 0) touched[i] = 1;
        at.level[i] = made === 0 && d > 0 ? at.level[i]! * kept : walk.next(i, d, at.level[i]!, made);
        if (touched[i] === 1) area += readLevel(items[i]!.saved, at.level[i]!) - walk.idle[i]![d]!;
      }
    }
    return area;
  };

  return {
    walk,
    shape,
    area: (order, size, ties = 'rate') => follow(order, size, ties),
    plan: (order, size, ties = 'rate') => {
      const days: PlannedDay[] = [];
      const area = follow(order, size, ties, days);
      return { days, size, area };
    },
  };
}
