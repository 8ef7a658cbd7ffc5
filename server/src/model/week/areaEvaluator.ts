/**
 * Computes the area of a plan without building the plan, because the search evaluates hundreds of plans. It follows
 * the same rules as `PlanSimulator.plan`, with plain numbers, and computes only techniques that are practised or
 * could enter the set.
 */
import { idleForecast } from './idleForecast.ts';
import { readLevelTable } from './levelTable.ts';
import { competentEnters } from './practiceSet.ts';
import { blocksUntilCompetentAgain, membersAtStart } from './planProblem.ts';
import type { PlanProblem } from './planProblem.ts';
import { sessionLimits } from './sessions.ts';
import type { SessionShape } from './sessions.ts';
import { allocateBlocks } from './allocateBlocks.ts';
import type { TieBreak } from './allocateBlocks.ts';
import type { LevelDynamics } from './levelDynamics.ts';

/** The area of the plan for an order of the items and a size of the set, in seconds times days. */
export type AreaEvaluator = (order: readonly number[], size: number, ties: TieBreak) => number;

/**
 * @param shape gives the blocks of a day for a number of techniques
 * @param shapeFor gives them for the members of the set
 */
export function createAreaEvaluator(
  problem: PlanProblem,
  dynamics: LevelDynamics,
  shape: (day: number, techniques: number) => SessionShape,
  shapeFor: (day: number, members: readonly number[]) => SessionShape,
): AreaEvaluator {
  const { items, minutes } = problem;
  const count = items.length;
  const days = minutes.length;
  const idle = idleForecast(problem, dynamics);
  const kept = 2 ** (-1 / problem.constants.halfLife);
  const pinned = Uint8Array.from(items, (item) => (item.pinned ? 1 : 0));
  const currentMembers = membersAtStart(problem);

  // The state of every item on the current morning.
  const level = new Float64Array(count);
  const rates = new Float64Array(count);
  const ready = new Uint8Array(count);
  const inside = new Uint8Array(count);
  const mayEnter = Uint8Array.from(items, (item) => (item.mayEnter || item.pinned ? 1 : 0));
  const anyPinned = items.some((item) => item.pinned) ? [1, 0] : [0];
  const place = new Uint16Array(count);
  const gone = new Uint8Array(count);
  const blocksHad = new Uint16Array(count);
  /**
   * The items practised so far, in rising order. `own` has their levels and `lastDay` the day of their last
   * practice.
   */
  let touched: number[] = [];
  const isTouched = new Uint8Array(count);
  const own = new Float64Array(count);
  const lastDay = new Int32Array(count);
  let members: number[] = [];

  const isOpen = (i: number): boolean => {
    for (const need of items[i]!.needs) if (ready[need] === 0) return false;
    return true;
  };
  /** Whether an item may leave the set, and seldom enters it. A pinned item never counts as competent. */
  const isCompetent = (i: number): boolean =>
    pinned[i] === 0 &&
    level[i]! >= items[i]!.competentLevel &&
    (!items[i]!.again || blocksHad[i]! >= blocksUntilCompetentAgain);
  /** The rate for ordering; a pinned item comes before all others. */
  const rank = (i: number): number => (pinned[i] === 1 ? Number.MAX_VALUE : rates[i]!);
  /** The greatest rate of those outside that may enter and are not competent. */
  const bestNewcomer = (): number => {
    let best = 0;
    for (let i = 0; i < count; i++) {
      if (inside[i] === 1 || gone[i] === 1 || mayEnter[i] === 0 || rank(i) <= best) continue;
      if (!isCompetent(i) && isOpen(i)) best = rank(i);
    }
    return best;
  };
  /** Place of the competent member with the lowest rate in the list of members, and its rate; -1 and Infinity if none. */
  let weakest = -1;
  let least = Infinity;
  const weigh = (): void => {
    weakest = -1;
    least = Infinity;
    for (let m = 0; m < members.length; m++) {
      const i = members[m]!;
      if (rates[i]! >= least || !isCompetent(i)) continue;
      weakest = m;
      least = rates[i]!;
    }
  };
  const removeWeakest = (): void => {
    const [i] = members.splice(weakest, 1);
    inside[i!] = 0;
    gone[i!] = 1;
  };

  /** Chooses the set of a session: members stay, competent ones give their places to others. */
  const renew = (order: readonly number[], size: number): void => {
    inside.fill(0);
    for (const i of members) inside[i] = 1;
    weigh();
    while (members.length > size && weakest >= 0) {
      removeWeakest();
      weigh();
    }
    if (members.length >= size && weakest < 0) return;
    for (const pins of anyPinned) {
      for (const i of order) {
        if (pinned[i] !== pins || inside[i] === 1 || gone[i] === 1) continue;
        const full = members.length >= size;
        if (full && (weakest < 0 || least >= rank(i))) continue;
        if (!(mayEnter[i] === 1 && rank(i) > 0 && isOpen(i))) continue;
        if (isCompetent(i) && (full || !competentEnters(rank(i), bestNewcomer()))) continue;
        if (full) removeWeakest();
        members.push(i);
        inside[i] = 1;
        weigh();
      }
    }
  };

  const idleFor = (i: number, day: number): number =>
    isTouched[i] === 1 ? day - 1 - lastDay[i]! : items[i]!.idleDays + day;

  const practised = new Uint8Array(count);

  return (order, size, ties) => {
    order.forEach((item, n) => (place[item] = n));
    ready.fill(0);
    gone.fill(0);
    blocksHad.fill(0);
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
        if (!begun) members = currentMembers.filter(isOpen);
        begun = true;
        renew(order, size);
        const today = shapeFor(day, members);
        length = today.length;
        const at = { level, ready, rates, place, idleFor: (i: number) => idleFor(i, day) };
        allocateBlocks(problem, dynamics, members, day, today, ties, at, practised);
        for (const i of members) {
          blocksHad[i]! += practised[i]!;
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
