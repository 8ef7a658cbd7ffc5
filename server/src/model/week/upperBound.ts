/**
 * An upper bound for the area of every plan that follows the rules, by Lagrangian relaxation (Held & Karp 1971).
 * The techniques share the minutes, the places in the set and the turns of each day. With a price on each of these,
 * the problem separates: the best path of each technique is found alone by dynamic programming. All prices give a
 * valid bound; subgradient steps change the prices to lower it.
 */
import { createPathFinder, membershipGains } from './membershipPath.ts';
import type { MembershipPrices, MembershipGains } from './membershipPath.ts';
import type { PlanSimulator } from './planSimulator.ts';
import { readLevelTable } from './levelTable.ts';
import { minutesAvailable } from './allocateBlocks.ts';
import type { PlanProblem } from './planProblem.ts';
import { buildMembershipGraph } from './membershipGraph.ts';
import type { MembershipGraph } from './membershipGraph.ts';
import { firstSession } from './firstSession.ts';
import { inOneGo } from '../../incremental/steps.ts';

/** An item that cannot enter the set before its need is ready. */
interface NeedArc {
  readonly item: number;
  readonly need: number;
}

/** The first morning on which a technique can be ready for those that need it, if it is in the set from `start` on. */
function earliestReadyDay(
  problem: PlanProblem,
  { dynamics }: PlanSimulator,
  item: number,
  { day, first, to, minutes, enters }: MembershipGraph,
  start: number,
): number {
  const { readyLevel } = problem.items[item]!;
  const level = new Float64Array(day.length).fill(-1);
  const unpractised = dynamics.idleLevels[item]!;
  const idleReady = unpractised.findIndex((here) => here >= readyLevel);
  if (idleReady >= 0) return idleReady;
  enters.forEach((v, d) => {
    if (v >= 0 && d >= start) level[v] = unpractised[d]!;
  });
  for (let v = 0; v < day.length; v++) {
    const here = level[v]!;
    if (here < 0) continue;
    if (here >= readyLevel) return day[v]!;
    for (let e = first[v]!; e < first[v + 1]!; e++)
      level[to[e]!] = Math.max(level[to[e]!]!, dynamics.next(item, day[v]!, here, minutes[e]!));
  }
  return Infinity;
}

/** The earliest day on which each item can enter the set: when its needs can be ready. */
function earliestEntryDays(
  problem: PlanProblem,
  simulator: PlanSimulator,
  staysBy: readonly MembershipGraph[],
): readonly number[] {
  const { items } = problem;
  const starts = items.map(() => 0);
  const readyOn = items.map((_, i) => earliestReadyDay(problem, simulator, i, staysBy[i]!, 0));
  for (let round = 0; round < items.length; round++) {
    let changed = false;
    items.forEach(({ needs }, i) => {
      const start = needs.reduce((latest, need) => Math.max(latest, readyOn[need]!), 0);
      if (start <= starts[i]!) return;
      starts[i] = start;
      readyOn[i] = earliestReadyDay(problem, simulator, i, staysBy[i]!, start);
      changed = true;
    });
    if (!changed) break;
  }
  return starts;
}

/**
 * An upper bound of the area of every plan whose set has one of the given sizes.
 *
 * @param sizes possible sizes of the set; start with that of the best known plan, because if its bound is the
 * highest, the others need few rounds
 * @param area area of a known plan; used for the length of the subgradient steps
 * @param rounds number of subgradient steps for each size
 */
export const upperBound = inOneGo(upperBoundSteps);

/** Like {@link upperBound}, in short steps. Between two steps the caller can do other work or stop. */
export function* upperBoundSteps(
  problem: PlanProblem,
  simulator: PlanSimulator,
  sizes: readonly number[],
  area: number,
  rounds: number,
): Generator<undefined, number> {
  let most = area;
  for (const size of sizes) {
    const bound = yield* boundForSize(problem, simulator, size, area, rounds, most);
    most = Math.max(most, bound);
  }
  return most;
}

/** Share of the previous direction that is kept in the next one, because subgradients alone oscillate. */
const momentum = 0.7;
/** After this many rounds in which the bound did not become lower, steps are shortened by the factor below. */
const roundsBeforeShrink = 6;
const stepShrinkFactor = 0.8;

/** The bound for one size of the set. It stops when the bound is below `enough`. */
function* boundForSize(
  problem: PlanProblem,
  simulator: PlanSimulator,
  size: number,
  area: number,
  rounds: number,
  enough: number,
): Generator<undefined, number> {
  const { items, blockMinutes } = problem;
  const days = problem.minutes.length;
  const sessions = [...problem.minutes.keys()].filter((d) => simulator.shape(d, size).blocks > 0);
  if (size === 0 || sessions.length === 0) return Math.max(0, area);
  const firstDay = sessions[0]!;
  const first = firstSession(problem, simulator, firstDay, size);
  const { stays: inSetAtStart, leaves, range } = first;
  const hasMoreThanPlaces = range.most > size;
  const full = range.fewest === range.most;
  const graphs = new Map<number, MembershipGraph>();
  const staysBy = items.map((_, i) => {
    const room = Math.max(0, minutesAvailable(problem, i, 0));
    const graph = graphs.get(room) ?? buildMembershipGraph(problem, simulator, range, room);
    graphs.set(room, graph);
    return graph;
  });
  const unpractised = simulator.dynamics.idleLevels;
  const earliest = earliestEntryDays(problem, simulator, staysBy);
  /** Whether an item can come into the set on a day, or come into it for the first session. */
  const canEnterOn = (i: number, d: number): boolean => {
    const { pinned, mayEnter, competentLevel } = items[i]!;
    if (inSetAtStart[i]!) return d === firstDay;
    if (leaves[i]! || d < earliest[i]!) return false;
    // What is competent takes free places only, and a set that is full once has none after the first session.
    const isCompetent = range.fewest >= size && unpractised[i]![d]! >= competentLevel;
    return pinned || (mayEnter && (!isCompetent || (d === firstDay && first.mayEnter[i]!)));
  };
  /** Whether it can also take the place of a competent member. */
  const canReplaceOn = (i: number, d: number): boolean =>
    canEnterOn(i, d) && (items[i]!.pinned || unpractised[i]![d]! < items[i]!.competentLevel);
  const rateOutside = items.map(({ pinned, rate, opens }, i) =>
    problem.minutes.map((_, d) => {
      if (inSetAtStart[i]! || !canReplaceOn(i, d)) return 0;
      return pinned ? Infinity : Math.max(opens, readLevelTable(rate, unpractised[i]![d]!));
    }),
  );
  const gains: MembershipGains[] = [];
  for (const i of items.keys()) {
    const leavesBelow = problem.minutes.map((_, d) =>
      hasMoreThanPlaces
        ? Infinity
        : rateOutside.reduce((most, rates, j) => (j === i ? most : Math.max(most, rates[d]!)), 0),
    );
    gains.push(membershipGains(problem, simulator, i, staysBy[i]!, leavesBelow));
    yield;
  }
  const arcs = items.flatMap(({ needs }, item): NeedArc[] =>
    needs
      .filter((need) => unpractised[need]!.every((level) => level < items[need]!.readyLevel))
      .map((need) => ({ item, need })),
  );
  const capacity = problem.minutes.map((free, d) => {
    if (d === 0 && simulator.anyPractisedToday) return free;
    let most = 0;
    for (let members = Math.max(1, range.fewest); members <= range.most; members++) {
      const { blocks, length } = simulator.shape(d, members);
      most = Math.max(most, blocks * length);
    }
    return most;
  });
  // Short days, on which some members have no block, so that members compete for the turns. While a member that has
  // not been practised yet misses its turn, no other member has a second turn.
  const shortBlocks = problem.minutes.map((_, d) => {
    const { blocks } = simulator.shape(d, range.most);
    return full && d > 0 && blocks < range.most ? blocks : 0;
  });

  // All prices in one array: of minutes (in blocks), of places, of turns, then for each arc one for each day.
  const placeAt = days;
  const turnAt = 2 * days;
  const needAt = 3 * days;
  const count = needAt + arcs.length * days;
  const prices = new Float64Array(count);
  const spare = new Float64Array(count);
  const direction = new Float64Array(count);
  // In a full set all places are taken (an equality), so their price may be negative.
  const isFree = (x: number): boolean => full && x >= placeAt && x < turnAt;
  const tops = items
    .filter(({ pinned }) => !pinned)
    .map(({ rate, opens }) => rate.values.reduce((a, b) => Math.max(a, b), opens));
  const usual = tops.sort((a, b) => b - a)[2 * size - 1] ?? 0;
  for (const d of sessions) prices[d] = (usual / 60) * 0.5 * (days - d) * blockMinutes;

  const find = createPathFinder(Math.max(...staysBy.map(({ day }) => day.length)));
  const charges = {
    place: prices.subarray(placeAt, turnAt),
    minute: new Float64Array(days),
    taken: new Float64Array(days),
    missed: new Float64Array(days),
    entry: new Float64Array(days),
    reward: new Float64Array(days + 1),
  };
  /** The bound at the current prices. Writes the unused amount of every shared resource to `spare`. */
  const bound = (): number => {
    let total = 0;
    spare.fill(0);
    for (const d of sessions) {
      spare[d] = capacity[d]! / blockMinutes;
      spare[placeAt + d] = range.most;
      total += prices[d]! * spare[d] + prices[placeAt + d]! * range.most;
      charges.minute[d] = prices[d]! / blockMinutes;
      if (shortBlocks[d]! === 0) continue;
      spare[turnAt + d] = 1;
      total += prices[turnAt + d]!;
      charges.taken[d] = prices[turnAt + d]! / shortBlocks[d]!;
      charges.missed[d] = prices[turnAt + d]! / (range.most - shortBlocks[d]!);
    }
    items.forEach((_, i) => {
      const { entry, reward } = charges;
      entry.fill(0);
      reward.fill(0);
      arcs.forEach(({ item, need }, a) => {
        if (item !== i && need !== i) return;
        let rest = 0;
        for (let d = days - 1; d >= 0; d--) {
          rest += prices[needAt + a * days + d]!;
          if (item === i) entry[d]! += rest;
          else reward[d]! += rest;
        }
      });
      for (let d = 0; d < days; d++) if (!canEnterOn(i, d)) entry[d] = Infinity;
      const path = find(gains[i]!, { ...charges, must: inSetAtStart[i]! } satisfies MembershipPrices);
      total += path.value;
      for (const { day, minutes, practised } of path.stay) {
        spare[day]! -= minutes / blockMinutes;
        spare[placeAt + day]! -= 1;
        if (shortBlocks[day]! === 0) continue;
        if (minutes > 0 && practised) spare[turnAt + day]! -= 1 / shortBlocks[day]!;
        if (minutes === 0 && !practised) spare[turnAt + day]! -= 1 / (range.most - shortBlocks[day]!);
      }
      arcs.forEach(({ item, need }, a) => {
        for (let d = 0; d < days; d++) {
          if (item === i && path.entered <= d) spare[needAt + a * days + d]! -= 1;
          if (need === i && path.ready <= d) spare[needAt + a * days + d]! += 1;
        }
      });
    });
    return total;
  };

  let best = Infinity;
  let pace = 1;
  let idle = 0;
  for (let round = 0; round < rounds; round++) {
    const total = bound();
    yield;
    if (best === Infinity || total < best - 1e-6 * Math.abs(best)) {
      best = total;
      idle = 0;
    } else if (++idle >= roundsBeforeShrink) {
      pace *= stepShrinkFactor;
      idle = 0;
    }
    let square = 0;
    for (let x = 0; x < count; x++) {
      const way = spare[x]! + momentum * direction[x]!;
      direction[x] = way > 0 && prices[x] === 0 && !isFree(x) ? 0 : way;
      square += direction[x]! ** 2;
    }
    if (square === 0 || best <= enough || total - area <= 1e-9 * Math.abs(area)) break;
    const step = (pace * (total - area)) / square;
    for (let x = 0; x < count; x++) {
      const price = prices[x]! - step * direction[x]!;
      prices[x] = isFree(x) ? price : Math.max(0, price);
    }
  }
  return Math.max(best, area);
}
