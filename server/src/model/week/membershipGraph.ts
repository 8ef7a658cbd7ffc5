/**
 * All possible stays of one technique in the set, as an acyclic graph; used for the upper bound. A technique enters
 * once and, having left, stays out. A node stands for a morning, the total minutes practised, and the number of
 * short days until it is its turn again. Edges lead only to later nodes.
 */
import type { PlanSimulator } from './planSimulator.ts';
import type { PlanProblem } from './planProblem.ts';
import { sessionLimits } from './sessions.ts';

/** The smallest and largest possible number of techniques in the set, from the first session on. */
export interface SetSizeRange {
  readonly fewest: number;
  readonly most: number;
}

export interface MembershipGraph {
  /** The morning of each node, including the morning after the last day. */
  readonly day: Uint16Array;
  /** 1 if it has been practised. */
  readonly practised: Uint8Array;
  /**
   * The edges of staying for one more day: those of node v have the numbers first[v] to first[v + 1] - 1. `to` is
   * the target node, `minutes` the minutes of practice.
   */
  readonly first: Int32Array;
  readonly to: Int32Array;
  readonly minutes: Uint16Array;
  /** The node of entering on each day; -1 on days without a session. */
  readonly enters: Int32Array;
}

/**
 * Resolution of minutes in the graph. Blocks of nearly the same length are treated as equal, which can only raise
 * the bound.
 */
const minuteResolution = 5;

/** The minutes that a member can have on a day; 0 only if the rules can leave a member without a block. */
function possibleMinutes(
  simulator: PlanSimulator,
  day: number,
  { fewest, most }: SetSizeRange,
  room: number,
): number[] {
  const steps = new Set<number>();
  if (day === 0 && simulator.anyPractisedToday) return possibleMinutesToday(room);
  for (let members = Math.max(1, fewest); members <= most; members++) {
    const { blocks, length } = simulator.shape(day, members);
    if (blocks === 0) continue;
    for (let n = Math.floor(blocks / members); n <= Math.ceil(blocks / members); n++) steps.add(n * length);
  }
  return steps.size > 0 ? [...steps].sort((a, b) => a - b) : [0];
}

/**
 * The minutes that a member can have on a first day on which some techniques were practised already. The length of
 * the blocks then depends on who is in the set, so every length is possible.
 */
function possibleMinutesToday(room: number): number[] {
  const steps = new Set([0]);
  for (let length: number = sessionLimits.shortest; length <= sessionLimits.longest; length++)
    for (let minutes = length; minutes <= room; minutes += length) steps.add(minutes);
  return [...steps].sort((a, b) => a - b);
}

/**
 * For each day, the number of later short days on which a technique practised on that day has no turn. Members that
 * have been without practice longest come first, so it has no turn until the blocks given out since then could have
 * reached all `most` members.
 */
function waitingDaysAfter(simulator: PlanSimulator, days: number, most: number): number[] {
  const blocks = Array.from({ length: days }, (_, d) => simulator.shape(d, most).blocks);
  return blocks.map((blocksThatDay, a) => {
    if (a === 0 && simulator.anyPractisedToday) return 0;
    let blocksGiven = blocksThatDay;
    let waits = 0;
    for (let b = a + 1; b < days; b++) {
      blocksGiven += blocks[b]!;
      if (blocksGiven > most) break;
      if (blocks[b]! > 0) waits++;
    }
    return waits;
  });
}

interface NodeState {
  readonly columns: number;
  readonly waits: number;
}

/** Builds the graph of a technique that can have at most `room` minutes on the first day. */
export function buildMembershipGraph(
  problem: PlanProblem,
  simulator: PlanSimulator,
  range: SetSizeRange,
  room: number,
): MembershipGraph {
  const days = problem.minutes.length;
  const session = problem.minutes.map((_, d) => simulator.shape(d, range.most).blocks > 0);
  // The turns are certain only if the set is full from the first session on.
  const sure = range.fewest === range.most;
  const short = problem.minutes.map(
    (_, d) => sure && session[d]! && simulator.shape(d, range.most).blocks < range.most,
  );
  const waits = sure ? waitingDaysAfter(simulator, days, range.most) : problem.minutes.map(() => 0);
  const steps = problem.minutes.map((_, d) =>
    session[d] ? possibleMinutes(simulator, d, range, d === 0 ? room : sessionLimits.onOne) : [0],
  );
  const stride = days + 1;
  const keyOf = ({ columns, waits }: NodeState): number => columns * stride + waits;
  const after = (d: number, { columns, waits: w }: NodeState, minutes: number): NodeState =>
    minutes > 0
      ? { columns: columns + Math.round(minutes / minuteResolution), waits: waits[d]! }
      : { columns, waits: short[d] ? Math.max(0, w - 1) : w };
  const allowed = (d: number, { waits: w }: NodeState): number[] =>
    short[d] && w > 0 ? steps[d]!.filter((m) => m === 0) : steps[d]!;

  const states = Array.from({ length: days + 1 }, () => new Map<number, NodeState>());
  const put = (d: number, state: NodeState): void => void states[d]!.set(keyOf(state), state);
  for (let d = 0; d < days; d++) {
    if (session[d]) put(d, { columns: 0, waits: 0 });
    for (const state of states[d]!.values())
      for (const m of allowed(d, state)) put(d + 1, after(d, state, m));
  }

  const nodes = states.flatMap((all, d) => [...all.values()].map((state) => ({ d, state })));
  const numbers = new Map(nodes.map(({ d, state }, v) => [d * stride * stride * 64 + keyOf(state), v]));
  const find = (d: number, state: NodeState): number => numbers.get(d * stride * stride * 64 + keyOf(state))!;
  const first = new Int32Array(nodes.length + 1);
  const to: number[] = [];
  const minutes: number[] = [];
  nodes.forEach(({ d, state }, v) => {
    first[v] = to.length;
    if (d === days) return;
    for (const m of allowed(d, state)) {
      to.push(find(d + 1, after(d, state, m)));
      minutes.push(m);
    }
  });
  first[nodes.length] = to.length;
  return {
    day: Uint16Array.from(nodes, ({ d }) => d),
    practised: Uint8Array.from(nodes, ({ state }) => (state.columns > 0 ? 1 : 0)),
    first,
    to: Int32Array.from(to),
    minutes: Uint16Array.from(minutes),
    enters: Int32Array.from(session, (held, d) => (held ? find(d, { columns: 0, waits: 0 }) : -1)),
  };
}
