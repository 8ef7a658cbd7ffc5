/**
 * All possible sequences of days in which one technique is in the set or out of it, as an acyclic graph; used for
 * the upper bound. A node stands for a morning, the total minutes practised, and the number of short days until it
 * is its turn again. Edges lead only to later nodes.
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
  /** 1 if the technique is in the set, 0 if it has left and waits. */
  readonly inside: Uint8Array;
  /** 1 if it has been practised. */
  readonly practised: Uint8Array;
  /**
   * The edges of staying for one more day: those of node v have the numbers first[v] to first[v + 1] - 1. `to` is
   * the target node, `minutes` the minutes of practice.
   */
  readonly first: Int32Array;
  readonly to: Int32Array;
  readonly minutes: Uint16Array;
  /**
   * For each node, the node after leaving on that morning, and the node after coming back on that morning; -1 if it
   * is not possible.
   */
  readonly leaves: Int32Array;
  readonly returns: Int32Array;
  /** The node of entering for the first time on each day; -1 on days without a session. */
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
  for (let members = Math.max(1, fewest); members <= most; members++) {
    const { blocks, length } = simulator.shape(day, members);
    if (blocks === 0) continue;
    // On the first day some members may already have reached the daily limit, and others get their blocks.
    const sure = day > 0 ? Math.floor(blocks / members) : Math.min(1, Math.floor(blocks / members));
    const top =
      day > 0 ? Math.ceil(blocks / members) : Math.min(blocks, Math.floor(sessionLimits.onOne / length));
    for (let n = sure; n <= top; n++) if (n * length <= room) steps.add(n * length);
    if (length > room) steps.add(0);
  }
  return steps.size > 0 ? [...steps].sort((a, b) => a - b) : [0];
}

/**
 * For each day, the number of later short days on which a technique practised on that day has no turn. Members that
 * have been without practice longest come first, so it has no turn until the blocks given out since then could have
 * reached all `most` members.
 */
function waitingDaysAfter(simulator: PlanSimulator, days: number, most: number): number[] {
  const blocks = Array.from({ length: days }, (_, d) => simulator.shape(d, most).blocks);
  return blocks.map((blocksThatDay, a) => {
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
  const backOn = (d: number): number => Math.min(days, d + sessionLimits.away);
  const away = (d: number, place: NodeState): NodeState => {
    let here = place;
    for (let k = d; k < backOn(d); k++) here = after(k, here, 0);
    return here;
  };
  const allowed = (d: number, { waits: w }: NodeState): number[] =>
    short[d] && w > 0 ? steps[d]!.filter((m) => m === 0) : steps[d]!;

  const inside = Array.from({ length: days + 1 }, () => new Map<number, NodeState>());
  const outside = Array.from({ length: days + 1 }, () => new Map<number, NodeState>());
  const put = (where: Map<number, NodeState>, place: NodeState): void => void where.set(keyOf(place), place);
  for (let d = 0; d < days; d++) {
    if (session[d]) {
      put(inside[d]!, { columns: 0, waits: 0 });
      for (const place of outside[d]!.values()) put(inside[d]!, place);
    }
    for (const place of outside[d]!.values()) put(outside[d + 1]!, after(d, place, 0));
    for (const place of inside[d]!.values()) {
      for (const m of allowed(d, place)) put(inside[d + 1]!, after(d, place, m));
      if (session[d]) put(outside[backOn(d)]!, away(d, place));
    }
  }

  // On each morning, nodes outside the set come before nodes in it, so that the edge of coming back leads forward.
  const nodes = inside.flatMap((_, d) => [
    ...[...outside[d]!.values()].map((place) => ({ d, place, member: false })),
    ...[...inside[d]!.values()].map((place) => ({ d, place, member: true })),
  ]);
  const numbers = new Map(nodes.map(({ d, place, member }, v) => [`${d} ${member} ${keyOf(place)}`, v]));
  const find = (d: number, member: boolean, place: NodeState): number =>
    numbers.get(`${d} ${member} ${keyOf(place)}`)!;
  const first = new Int32Array(nodes.length + 1);
  const to: number[] = [];
  const minutes: number[] = [];
  const leaves = new Int32Array(nodes.length).fill(-1);
  const returns = new Int32Array(nodes.length).fill(-1);
  nodes.forEach(({ d, place, member }, v) => {
    first[v] = to.length;
    if (d === days) return;
    for (const m of member ? allowed(d, place) : [0]) {
      to.push(find(d + 1, member, after(d, place, m)));
      minutes.push(m);
    }
    if (!session[d]) return;
    if (member) leaves[v] = find(backOn(d), false, away(d, place));
    else returns[v] = find(d, true, place);
  });
  first[nodes.length] = to.length;
  return {
    day: Uint16Array.from(nodes, ({ d }) => d),
    inside: Uint8Array.from(nodes, ({ member }) => (member ? 1 : 0)),
    practised: Uint8Array.from(nodes, ({ place }) => (place.columns > 0 ? 1 : 0)),
    first,
    to: Int32Array.from(to),
    minutes: Uint16Array.from(minutes),
    leaves,
    returns,
    enters: Int32Array.from(session, (held, d) => (held ? find(d, true, { columns: 0, waits: 0 }) : -1)),
  };
}
