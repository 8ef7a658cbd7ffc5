/**
 * Computes the area of a plan without building the plan, because the search evaluates hundreds of plans. It follows
 * the same rules as `PlanSimulator.plan`, with plain numbers, and computes only techniques that are practised or
 * could enter the set.
 */
import { idleForecast } from './idleForecast.ts';
import { readLevelTable } from './levelTable.ts';
import type { PlanProblem } from './planProblem.ts';
import { sessionLimits } from './sessions.ts';
import type { SessionShape } from './sessions.ts';
import { allocateBlocks } from './allocateBlocks.ts';
import type { TieBreak } from './allocateBlocks.ts';
import type { LevelDynamics } from './levelDynamics.ts';

/** The area of the plan for an order of the items and a size of the set, in seconds times days. */
export type AreaEvaluator = (order: readonly number[], size: number, ties: TieBreak) => number;

/** @param shape gives the blocks of a day for a number of techniques */
export function createAreaEvaluator(
  problem: PlanProblem,
  dynamics: LevelDynamics,
  shape: (day: number, techniques: number) => SessionShape,
): AreaEvaluator {
  const { items, minutes, leavingShare } = problem;
  const count = items.length;
  const days = minutes.length;
  const idle = idleForecast(problem, dynamics);
  const kept = 2 ** (-1 / problem.constants.halfLife);
  const pinned = Uint8Array.from(items, (item) => (item.pinned ? 1 : 0));
  const currentMembers = [...items.keys()].filter((i) => items[i]!.inSetAtStart);

  // The state of every item on the current morning.
  const level = new Float64Array(count);
  const rates = new Float64Array(count);
  const ready = new Uint8Array(count);
  const inside = new Uint8Array(count);
  const anyPinned = items.some((item) => item.pinned) ? [1, 0] : [0];
  const place = new Uint16Array(count);
  const awayUntil = new Int32Array(count);
  /**
   * The items practised so far, in rising order. `own` has their levels and `lastDay` the day of their last
   * practice.
   */
  let touched: number[] = [];
  const isTouched = new Uint8Array(count);
  const own = new Float64Array(count);
  const lastDay = new Int32Array(count);
  const stayed = new Uint8Array(count);
  let members: number[] = [];

  const isOpen = (i: number): boolean => {
    for (const need of items[i]!.needs) if (ready[need] === 0) return false;
    return true;
  };
  /** The rate for ordering; a pinned item comes before all others. */
  const rank = (i: number): number => (pinned[i] === 1 ? Number.MAX_VALUE : rates[i]!);
  /** A member's rate in the rule for leaving the set; a pinned item never leaves. */
  const rateToKeep = (i: number): number => {
    if (pinned[i] === 1) return Infinity;
    return rates[i]! / (level[i]! >= items[i]!.competentLevel ? 1 : leavingShare);
  };
  let weakest = -1;
  let least = Infinity;
  const weigh = (): void => {
    weakest = 0;
    least = Infinity;
    for (let m = 0; m < members.length; m++) {
      const value = rateToKeep(members[m]!);
      if (m > 0 && value >= least) continue;
      weakest = m;
      least = value;
    }
  };

  const tryToEnter = (i: number, size: number, day: number): void => {
    if (members.length >= size && least >= rank(i)) return;
    if (!isOpen(i)) return;
    if (members.length >= size) {
      const [gone] = members.splice(weakest, 1);
      // An item that entered this morning and is replaced at once does not have to stay away.
      if (stayed[gone!] === 1) awayUntil[gone!] = day + sessionLimits.away;
    }
    members.push(i);
    inside[i] = 1;
    weigh();
  };

  /** Chooses the set of the first session: the previous members if there is room, then the best items. */
  const begin = (order: readonly number[], size: number): void => {
    const able = currentMembers.filter(isOpen);
    members = [...able];
    while (members.length > size) {
      let lowest = 0;
      members.forEach((i, m) => {
        if (rank(i) < rank(members[lowest]!)) lowest = m;
      });
      members.splice(lowest, 1);
    }
    inside.fill(0);
    stayed.fill(0);
    for (const i of currentMembers) stayed[i] = 1;
    for (const i of members) inside[i] = 1;
    weigh();
    for (const i of able) if (inside[i] === 0 && rank(i) > 0) tryToEnter(i, size, 0);
    for (const pins of anyPinned) {
      for (const i of order) {
        if (pinned[i] === pins && stayed[i] === 0 && rank(i) > 0) tryToEnter(i, size, 0);
      }
    }
  };

  const mayEnter = (i: number, day: number): boolean => inside[i] === 0 && awayUntil[i]! <= day;
  /** The highest rate outside the set. If no member has to leave for it, the set stays the same. */
  const topOutside = (day: number): number => {
    let top = 0;
    for (const i of touched) if (rank(i) > top && mayEnter(i, day) && isOpen(i)) top = rank(i);
    for (const i of idle.byRate[day]!) {
      if (isTouched[i] === 1 || !mayEnter(i, day) || !isOpen(i)) continue;
      return Math.max(top, rank(i));
    }
    return top;
  };
  /** Chooses the set of a later session. */
  const renew = (order: readonly number[], size: number, day: number): void => {
    inside.fill(0);
    stayed.fill(0);
    for (const i of members) {
      inside[i] = 1;
      stayed[i] = 1;
    }
    weigh();
    if (members.length >= size && least >= topOutside(day)) return;
    for (const pins of anyPinned) {
      for (const i of order) {
        if (rates[i]! <= least && pins === 0 && members.length >= size) continue;
        if (pinned[i] === pins && rank(i) > 0 && mayEnter(i, day)) tryToEnter(i, size, day);
      }
    }
  };

  const idleFor = (i: number, day: number): number =>
    isTouched[i] === 1 ? day - 1 - lastDay[i]! : items[i]!.idleDays + day;

  const practised = new Uint8Array(count);

  return (order, size, ties) => {
    order.forEach((item, n) => (place[item] = n));
    ready.fill(0);
    awayUntil.fill(0);
    isTouched.fill(0);
    touched = [];
    members = [];
    let begun = false;
    let area = 0;
    for (let day = 0; day < days; day++) {
      for (const i of idle.becomeReady[day]!) ready[i] = 1;
      for (const i of touched) if (own[i]! >= items[i]!.readyLevel) ready[i] = 1;
      practised.fill(0);
      let length = 0;
      if (shape(day, sessionLimits.set).blocks > 0) {
        level.set(idle.levels[day]!);
        rates.set(idle.rates[day]!);
        for (const i of touched) {
          const { rate, opens } = items[i]!;
          const here = readLevelTable(rate, own[i]!);
          level[i] = own[i]!;
          rates[i] = ready[i] === 1 ? here : Math.max(here, opens);
        }
        if (begun) renew(order, size, day);
        else begin(order, size);
        begun = true;
        const today = shape(day, members.length);
        length = today.length;
        const at = { level, ready, rates, place, idleFor: (i: number) => idleFor(i, day) };
        allocateBlocks(problem, dynamics, members, day, today, ties, at, practised);
        for (const i of members) {
          if (practised[i] === 0 || isTouched[i] === 1) continue;
          isTouched[i] = 1;
          own[i] = level[i]!;
          let to = touched.length;
          while (to > 0 && touched[to - 1]! > i) to--;
          touched.splice(to, 0, i);
        }
      }
      for (const i of touched) {
        const minutes = practised[i]! * length;
        if (minutes > 0) lastDay[i] = day;
        own[i] = minutes === 0 && day > 0 ? own[i]! * kept : dynamics.next(i, day, own[i]!, minutes);
        area += readLevelTable(items[i]!.saved, own[i]) - dynamics.idle[i]![day]!;
      }
    }
    return area;
  };
}
