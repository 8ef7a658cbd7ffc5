/**
 * The gains of one technique on the paths through its membership graph, and its best path at given prices; used for
 * the upper bound.
 */
import type { PlanSimulator } from './planSimulator.ts';
import { readLevelTable } from './levelTable.ts';
import type { LevelTable } from './levelTable.ts';
import type { PlanProblem } from './planProblem.ts';
import type { MembershipGraph } from './membershipGraph.ts';

/** The gains of one technique on its membership graph. */
export interface MembershipGains {
  readonly graph: MembershipGraph;
  /** Gain on the morning of each node. If paths with different levels meet in a node, the highest level is used. */
  readonly gain: Float64Array;
  /**
   * Total gain of the remaining days if it leaves at a node; minus infinity if the rules do not let it leave there.
   */
  readonly afterLeaving: Float64Array;
  /** 1 if it may have become ready for the techniques that need it. */
  readonly ready: Uint8Array;
}

/** Lowest value of a table between two levels. */
function lowestBetween(table: LevelTable, low: number, high: number): number {
  const { from, step, values } = table;
  let least = Math.min(readLevelTable(table, low), readLevelTable(table, high));
  const last = Math.min(values.length - 1, Math.floor((high - from) / step));
  for (let k = Math.max(0, Math.ceil((low - from) / step)); k <= last; k++)
    least = Math.min(least, values[k]!);
  return least;
}

/**
 * @param leavesBelow the rate on each morning below which it may leave if it is competent: the highest outside, or
 *   Infinity if there can be more members than places
 */
export function membershipGains(
  problem: PlanProblem,
  { dynamics }: PlanSimulator,
  item: number,
  graph: MembershipGraph,
  leavesBelow: ArrayLike<number>,
): MembershipGains {
  const { saved, rate, competentLevel, readyLevel, pinned } = problem.items[item]!;
  const { day, first, to, minutes, enters } = graph;
  const days = problem.minutes.length;
  const count = day.length;
  const idle = dynamics.idle[item]!;
  const highest = new Float64Array(count).fill(-1);
  const lowest = new Float64Array(count).fill(Infinity);
  const gain = new Float64Array(count);
  const afterLeaving = new Float64Array(count).fill(-Infinity);
  const ready = new Uint8Array(count);
  const reach = (v: number, low: number, high: number, isReady: number): void => {
    if (high > highest[v]!) highest[v] = high;
    if (low < lowest[v]!) lowest[v] = low;
    // A technique that has been ready stays ready.
    if (isReady === 1) ready[v] = 1;
  };
  const unpractised = dynamics.idleLevels[item]!;
  enters.forEach((v, d) => {
    if (v >= 0) reach(v, unpractised[d]!, unpractised[d]!, 0);
  });
  for (let v = 0; v < count; v++) {
    const high = highest[v]!;
    const low = lowest[v]!;
    if (high < 0) continue;
    const d = day[v]!;
    if (d > 0) gain[v] = readLevelTable(saved, high) - idle[d - 1]!;
    if (high >= readyLevel) ready[v] = 1;
    for (let e = first[v]!; e < first[v + 1]!; e++)
      reach(
        to[e]!,
        dynamics.next(item, d, low, minutes[e]!),
        dynamics.next(item, d, high, minutes[e]!),
        ready[v]!,
      );
    if (pinned || d === days || enters[d]! < 0 || high < competentLevel) continue;
    if (!(lowestBetween(rate, low, high) < leavesBelow[d]!)) continue;
    let sum = 0;
    let level = high;
    for (let k = d; k < days; k++) {
      level = dynamics.next(item, k, level, 0);
      sum += readLevelTable(saved, level) - idle[k]!;
    }
    afterLeaving[v] = sum;
  }
  return { graph, gain, afterLeaving, ready };
}

/** The prices, by day, that one technique pays for shared resources. */
export interface MembershipPrices {
  /**
   * Prices of a place in the set and of a minute; and on short days of a turn: `taken` by a technique that was
   * practised before, `missed` by one that was not.
   */
  readonly place: Float64Array;
  readonly minute: Float64Array;
  readonly taken: Float64Array;
  readonly missed: Float64Array;
  /** Price of entering the set on that day; Infinity if it cannot. */
  readonly entry: Float64Array;
  /** Reward for being ready for the first time on that morning. */
  readonly reward: Float64Array;
  /** Whether it must be in the set at some time. */
  readonly must: boolean;
}

/** The best path at given prices. */
export interface MembershipPath {
  readonly value: number;
  /**
   * The days in the set in rising order, with the minutes of practice. 0 minutes for a technique not practised
   * before is a missed turn.
   */
  readonly stay: readonly { readonly day: number; readonly minutes: number; readonly practised: boolean }[];
  /** First day in the set, and first morning on which it is ready; Infinity if it never enters or is never ready. */
  readonly entered: number;
  readonly ready: number;
}

/** Creates a function that finds best paths. It reuses its buffers from one search to the next. */
export function createPathFinder(
  nodes: number,
): (gains: MembershipGains, charges: MembershipPrices) => MembershipPath {
  const value = new Float64Array(nodes);
  const by = new Int32Array(nodes);
  const origin = -1;
  return ({ graph, gain, afterLeaving, ready }, { place, minute, taken, missed, entry, reward, must }) => {
    const { day, practised, first, to, minutes, enters } = graph;
    const count = day.length;
    const days = enters.length;
    value.fill(-Infinity, 0, count);
    const offer = (v: number, total: number, from: number): void => {
      if (total <= value[v]!) return;
      value[v] = total;
      by[v] = from;
    };
    enters.forEach((v, d) => {
      if (v >= 0 && entry[d]! < Infinity) offer(v, -entry[d]!, origin);
    });
    let best = must ? -Infinity : 0;
    let end = -1;
    for (let v = 0; v < count; v++) {
      const here = value[v]!;
      if (here === -Infinity) continue;
      const d = day[v]!;
      const ending = d === days ? here : here + afterLeaving[v]!;
      if (ending > best) {
        best = ending;
        end = v;
      }
      if (d === days) continue;
      const paid = enters[d]! >= 0 ? here - place[d]! : here;
      for (let e = first[v]!; e < first[v + 1]!; e++) {
        const then = to[e]!;
        let total = paid + gain[then]!;
        if (minutes[e]! > 0) total -= minutes[e]! * minute[d]! + (practised[v] === 1 ? taken[d]! : 0);
        else if (practised[v] === 0) total -= missed[d]!;
        if (ready[v] === 0 && ready[then] === 1) total += reward[d + 1]!;
        offer(then, total, v);
      }
    }
    const stay: { day: number; minutes: number; practised: boolean }[] = [];
    let entered = Infinity;
    let readyOn = Infinity;
    for (let v = end; v >= 0; v = by[v]!) {
      if (ready[v] === 1) readyOn = day[v]!;
      const from = by[v]!;
      if (from === origin) {
        entered = day[v]!;
        break;
      }
      const d = day[from]!;
      if (enters[d]! < 0) continue;
      let e = first[from]!;
      while (to[e] !== v) e++;
      stay.push({ day: d, minutes: minutes[e]!, practised: practised[from] === 1 });
    }
    return { value: best, stay: stay.reverse(), entered, ready: readyOn };
  };
}
