/**
 * All that one technique could do in any plan that keeps the rules, by the minutes it has had in all: for the bound.
 * Where a number of minutes can be reached in several ways, the way that leaves the highest level counts.
 */
import { readLevel } from './levelTable.ts';
import type { Follower } from './follow.ts';
import { roomToday } from './follow.ts';
import type { PlanProblem } from './problem.ts';
import { limits } from './sessions.ts';

/** What a day asks of a technique in the set. */
export interface DayOffer {
  /** Whether anybody practises. */
  readonly session: boolean;
  /** Minutes that a member can have, rising; nothing among them where every member has a block. */
  readonly minutes: readonly number[];
  /** Most minutes of practice in all, and most members. */
  readonly capacity: number;
  readonly members: number;
}

/** The days of a problem for sets of `least` to `most` techniques. */
export function offers(problem: PlanProblem, follow: Follower, least: number, most: number): DayOffer[] {
  return problem.minutes.map((_, d) => {
    const minutes = new Set<number>();
    let capacity = 0;
    for (let members = Math.max(1, least); members <= most; members++) {
      const { blocks, length } = follow.shape(d, members);
      capacity = Math.max(capacity, blocks * length);
      if (blocks < members) minutes.add(0);
      const each = blocks <= members ? 1 : Math.floor(limits.onOne / length);
      for (let n = 1; n <= Math.min(blocks, each); n++) minutes.add(n * length);
    }
    return { session: capacity > 0, minutes: [...minutes].sort((a, b) => a - b), capacity, members: most };
  });
}

/** A day's practice: minutes, and the columns that they lead on by. */
export interface Step {
  readonly minutes: number;
  readonly columns: number;
}

/** One technique's courses. Rows are mornings, columns tell apart how much was practised in all. */
export interface Courses {
  readonly width: number;
  /** What each day allows. */
  readonly steps: readonly (readonly Step[])[];
  /** Gain on the morning after day d, at [d * width + column]; not reached: minus infinity. */
  readonly gain: Float64Array;
  /** Gain of the days that a technique stays away for where it leaves on the morning of day d. */
  readonly away: Float64Array;
  /** 1 where it may leave, and where it is ready for what needs it. */
  readonly leaves: Uint8Array;
  readonly ready: Uint8Array;
}

/** Minutes a column stands for: blocks of nearly the same length are taken together, which only raises the bound. */
const columnMinutes = 5;

/** @param bestRate the highest rate that any other technique can have */
export function coursesOf(
  problem: PlanProblem,
  follow: Follower,
  item: number,
  days: readonly DayOffer[],
  bestRate: number,
): Courses {
  const { walk } = follow;
  const { saved, rate, competentLevel, readyLevel, pinned } = problem.items[item]!;
  const count = days.length;
  const rest: Step = { minutes: 0, columns: 0 };
  const steps = days.map(({ session, minutes }, d): Step[] => {
    if (!session) return [rest];
    const fits = minutes.filter((m) => m <= roomToday(problem, item, d));
    if (fits.length < minutes.length && !fits.includes(0)) fits.unshift(0);
    return fits.map((m) => ({ minutes: m, columns: Math.round(m / columnMinutes) }));
  });
  const width = steps.reduce((sum, s) => sum + s.reduce((a, b) => Math.max(a, b.columns), 0), 0) + 1;
  const cells = (count + 1) * width;
  const level = new Float64Array(cells).fill(-1);
  level[0] = walk.start[item]!;
  for (let d = 0; d < count; d++) {
    for (let t = 0; t < width; t++) {
      const here = level[d * width + t]!;
      if (here < 0) continue;
      // What is not in the set rests.
      for (const step of [rest, ...steps[d]!]) {
        const to = (d + 1) * width + t + step.columns;
        const then = walk.next(item, d, here, step.minutes);
        if (then > level[to]!) level[to] = then;
      }
    }
  }
  const gain = new Float64Array(cells).fill(-Infinity);
  const away = new Float64Array(cells);
  const leaves = new Uint8Array(cells);
  const ready = new Uint8Array(cells);
  const idle = walk.idle[item]!;
  for (let d = 0; d <= count; d++) {
    for (let t = 0; t < width; t++) {
      const at = d * width + t;
      const here = level[at]!;
      if (here < 0) continue;
      if (d > 0) gain[at] = t === 0 ? 0 : readLevel(saved, here) - idle[d - 1]!;
      if (here >= readyLevel) ready[at] = 1;
      // The level is the highest of several: somewhat below it the rate may be lower, and leaving allowed.
      let lowest = Infinity;
      for (let below = 0; below < 6; below++)
        lowest = Math.min(lowest, readLevel(rate, here - below * rate.step));
      const outranked = lowest < problem.leavingShare * bestRate;
      if (t > 0 && !pinned && (here >= competentLevel || outranked)) leaves[at] = 1;
      let then = here;
      let sum = 0;
      for (let k = d; k < Math.min(count, d + limits.away) && t > 0; k++) {
        then = walk.next(item, Math.max(1, k), then, 0);
        sum += readLevel(saved, then) - idle[k]!;
      }
      away[at] = sum;
    }
  }
  return { width, steps, gain, away, leaves, ready };
}
