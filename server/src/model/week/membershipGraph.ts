/**
 * Every way in which one technique can be in and out of the set, as a graph without loops: for the bound. A node tells
 * the morning, the minutes practised in all, and for how many short days it is not its turn yet. Edges lead to later
 * nodes only.
 */
import type { PlanSimulator } from './planSimulator.ts';
import type { PlanProblem } from './planProblem.ts';
import { sessionLimits } from './sessions.ts';

/** How many techniques the set holds from the first session on. */
export interface SetSizeRange {
  readonly fewest: number;
  readonly most: number;
}

export interface MembershipGraph {
  /** Mornings, by node; the one after the last day among them. */
  readonly day: Uint16Array;
  /** 1 where the technique is in the set until it leaves, 0 where it has left and waits. */
  readonly inside: Uint8Array;
  /** 1 where it has been practised. */
  readonly practised: Uint8Array;
  /** A day's edges: those of node v are numbered from first[v] to first[v + 1] - 1, with their minutes of practice. */
  readonly first: Int32Array;
  readonly to: Int32Array;
  readonly minutes: Uint16Array;
  /** The node after leaving on that morning, and the node of one who comes back on it; -1 where neither can be. */
  readonly leaves: Int32Array;
  readonly returns: Int32Array;
  /** The node of entering for the first time on each day; -1 on days without a session. */
  readonly enters: Int32Array;
}

/** Minutes that the graph tells apart: blocks of nearly the same length are taken together, which only raises the bound. */
const minuteResolution = 5;

/** Minutes a member can have on a day; 0 only where the rules leave somebody without a block. */
function possibleMinutes(
  follow: PlanSimulator,
  day: number,
  { fewest, most }: SetSizeRange,
  room: number,
): number[] {
  const steps = new Set<number>();
  for (let members = Math.max(1, fewest); members <= most; members++) {
    const { blocks, length } = follow.shape(day, members);
    if (blocks === 0) continue;
    // On the first day some may have no room left, and others get their blocks.
    const sure = day > 0 ? Math.floor(blocks / members) : Math.min(1, Math.floor(blocks / members));
    const top =
      day > 0 ? Math.ceil(blocks / members) : Math.min(blocks, Math.floor(sessionLimits.onOne / length));
    for (let n = sure; n <= top; n++) if (n * length <= room) steps.add(n * length);
    if (length > room) steps.add(0);
  }
  return steps.size > 0 ? [...steps].sort((a, b) => a - b) : [0];
}

/**
 * For how many short days it is not one's turn after practice on each day. Those longest unpractised come first: of
 * `most` members at most as many as blocks were handed out since then have rested as short or shorter.
 */
function waitingDaysAfter(follow: PlanSimulator, days: number, most: number): number[] {
  const blocks = Array.from({ length: days }, (_, d) => follow.shape(d, most).blocks);
  return blocks.map((given, a) => {
    let handed = given;
    let waits = 0;
    for (let b = a + 1; b < days; b++) {
      handed += blocks[b]!;
      if (handed > most) break;
      if (blocks[b]! > 0) waits++;
    }
    return waits;
  });
}

interface NodeState {
  readonly columns: number;
  readonly waits: number;
}

/** The graph for a technique that has room for so many minutes on the first day. */
export function buildMembershipGraph(
  problem: PlanProblem,
  follow: PlanSimulator,
  range: SetSizeRange,
  room: number,
): MembershipGraph {
  const days = problem.minutes.length;
  const session = problem.minutes.map((_, d) => follow.shape(d, range.most).blocks > 0);
  // Turns are sure only where the set is full from the first session on.
  const sure = range.fewest === range.most;
  const short = problem.minutes.map(
    (_, d) => sure && session[d]! && follow.shape(d, range.most).blocks < range.most,
  );
  const waits = sure ? waitingDaysAfter(follow, days, range.most) : problem.minutes.map(() => 0);
  const steps = problem.minutes.map((_, d) =>
    session[d] ? possibleMinutes(follow, d, range, d === 0 ? room : sessionLimits.onOne) : [0],
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

  // Who waits comes before who is in the set on the same morning: the edge of coming back leads forward.
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
