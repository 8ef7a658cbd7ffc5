/**
 * No plan that keeps the rules has a greater area than this: Lagrangian relaxation (Held & Karp 1971). The techniques
 * share the minutes and the places of each day; with a price on both they part, and each takes its own best course by
 * dynamic programming. Any prices give a bound; they are moved by subgradients towards the lowest.
 */
import { coursesOf, offers } from './courses.ts';
import type { Courses, DayOffer } from './courses.ts';
import { isOpen, noteReady, rateAt } from './follow.ts';
import type { Follower } from './follow.ts';
import { limits } from './sessions.ts';
import type { PlanProblem } from './problem.ts';

interface Prices {
  /** For a minute, and for a place in the set, of each day. */
  readonly minute: Float64Array;
  readonly place: Float64Array;
  /** For beginning what needs another; the need that gets ready earns it. */
  readonly need: Float64Array;
}

interface Arc {
  readonly item: number;
  readonly need: number;
}

interface Course {
  readonly value: number;
  /** Minutes by day; -1 outside the set. */
  readonly minutes: Float64Array;
  readonly starts: boolean;
  readonly getsReady: boolean;
}

/** How a cell was come to: by which of the day's steps in the set (from 0 up), or in one of these ways. */
const unreached = -1;
const waited = -2;
const cameBack = -3;
const began = -4;

/**
 * The best course of one technique at given prices: each morning it is in the set or out of it. What leaves stays away
 * for some days.
 */
function bestCourse(
  courses: Courses,
  days: readonly DayOffer[],
  prices: Prices,
  entry: number,
  earliest: number,
  reward: number,
): Course {
  const { width, steps, gain, away, leaves, ready } = courses;
  const count = days.length;
  const cells = (count + 1) * width;
  const inside = new Float64Array(cells).fill(-Infinity);
  const outside = new Float64Array(cells).fill(-Infinity);
  const insideBy = new Int32Array(cells).fill(unreached);
  const entered = new Int8Array(cells);
  const outsideBy = new Int32Array(cells).fill(unreached);
  for (let d = 0; d < count; d++) {
    const row = d * width;
    const { session } = days[d]!;
    for (let t = 0; t < width; t++) {
      const at = row + t;
      const out = outside[at]!;
      let here = inside[at]!;
      if (here > -Infinity && leaves[at] === 1) {
        const back = Math.min(count, d + limits.away) * width + t;
        const total = here + away[at]!;
        if (total > outside[back]!) {
          outside[back] = total;
          outsideBy[back] = d;
        }
      }
      if (out > -Infinity) {
        const then = out + gain[at + width]!;
        if (then > outside[at + width]!) {
          outside[at + width] = then;
          outsideBy[at + width] = waited;
        }
        if (session && out > here) {
          here = out;
          entered[at] = cameBack;
        }
      }
      if (t === 0 && session && d >= earliest && -entry > here) {
        here = -entry;
        entered[at] = began;
      }
      if (here === -Infinity) continue;
      if (session) here -= prices.place[d]!;
      const offered = steps[d]!;
      for (let s = 0; s < offered.length; s++) {
        const step = offered[s]!;
        const to = at + width + step.columns;
        const then = here - step.minutes * prices.minute[d]! + gain[to]!;
        if (then <= inside[to]!) continue;
        inside[to] = then;
        insideBy[to] = s;
      }
    }
  }
  let best = 0;
  let end = -1;
  let member = true;
  for (let at = count * width; at < cells; at++) {
    const earned = ready[at] === 1 ? reward : 0;
    for (const isIn of [true, false]) {
      const total = (isIn ? inside : outside)[at]! + earned;
      if (!(total > best)) continue;
      best = total;
      end = at;
      member = isIn;
    }
  }
  const minutes = new Float64Array(count).fill(-1);
  for (let at = end; at >= width;) {
    if (!member) {
      const by = outsideBy[at]!;
      if (by === waited) at -= width;
      else {
        at = by * width + (at % width);
        member = true;
      }
      continue;
    }
    const made = insideBy[at]!;
    if (made === unreached) break;
    const d = Math.floor(at / width) - 1;
    minutes[d] = steps[d]![made]!.minutes;
    at -= width + steps[d]![made]!.columns;
    if (entered[at] === began) break;
    if (entered[at] === cameBack) member = false;
  }
  return { value: best, minutes, starts: end >= 0, getsReady: end >= 0 && ready[end] === 1 };
}

/** The earliest morning on which each item could begin: its needs practised for an hour a day until they are ready. */
function earliestStarts(problem: PlanProblem, follow: Follower, days: readonly DayOffer[]): number[] {
  const { items } = problem;
  const readyOn = items.map(() => Infinity);
  const starts = items.map(() => Infinity);
  for (let round = 0; round < items.length; round++) {
    let changed = false;
    items.forEach(({ needs, readyLevel }, i) => {
      const start = needs.reduce((latest, need) => Math.max(latest, readyOn[need]!), 0);
      if (start >= starts[i]!) return;
      starts[i] = start;
      changed = true;
      let level = follow.walk.start[i]!;
      for (let d = 0; d < days.length; d++) {
        if (level >= readyLevel) {
          readyOn[i] = d;
          break;
        }
        const most = d >= start ? Math.min(limits.onOne, days[d]!.capacity) : 0;
        level = follow.walk.next(i, d, level, most);
      }
    });
    if (!changed) break;
  }
  return starts;
}

/** Techniques in the set on the first morning at least: it never shrinks after. */
function fewestMembers(problem: PlanProblem, follow: Follower, size: number): number {
  const count = problem.items.length;
  const at = { level: follow.walk.start, ready: new Uint8Array(count), gone: new Uint8Array(count) };
  noteReady(problem, at);
  const open = problem.items.filter(
    ({ pinned }, i) => isOpen(problem, i, at) && (pinned || rateAt(problem, i, at) > 0),
  );
  return Math.min(size, open.length);
}

/**
 * An upper bound on the area of every plan with a set of one of the sizes.
 *
 * @param area of a plan that is known, towards which the prices are moved
 * @param rounds in which the prices are moved, for each size
 */
export function upperBound(
  problem: PlanProblem,
  follow: Follower,
  sizes: readonly number[],
  area: number,
  rounds: number,
): number {
  return sizes.reduce(
    (most, size) => Math.max(most, boundFor(problem, follow, size, area, rounds, most)),
    area,
  );
}

/** The bound for one size of the set; it need not be lowered below `enough`. */
function boundFor(
  problem: PlanProblem,
  follow: Follower,
  most: number,
  area: number,
  rounds: number,
  enough: number,
): number {
  const { items } = problem;
  const fewest = fewestMembers(problem, follow, most);
  const days = offers(problem, follow, fewest, most);
  if (most === 0 || days.every(({ session }) => !session)) return Math.max(0, area);
  const earliest = earliestStarts(problem, follow, days);
  const tops = items.map(({ rate, opens }) => rate.values.reduce((a, b) => Math.max(a, b), opens));
  const courses = items.map((_, i) => {
    const bestOther = tops.reduce((a, b, j) => (j === i ? a : Math.max(a, b)), 0);
    return coursesOf(problem, follow, i, days, bestOther);
  });
  const arcs = items.flatMap(({ needs }, item): Arc[] =>
    needs
      .filter((need) => items[need]!.readyLevel > follow.walk.start[need]!)
      .map((need) => ({ item, need })),
  );
  const block = problem.blockMinutes;
  const prices: Prices = {
    minute: new Float64Array(days.length),
    place: new Float64Array(days.length),
    need: new Float64Array(arcs.length),
  };
  const sorted = [...tops].sort((a, b) => b - a);
  const usual = sorted[Math.min(sorted.length, 2 * most) - 1] ?? 0;
  days.forEach((_, d) => {
    prices.minute[d] = (usual / 60) * 0.5 * (days.length - d);
  });
  let best = Infinity;
  let pace = 1;
  let idle = 0;
  for (let round = 0; round < rounds; round++) {
    let total = 0;
    const spare = Float64Array.from(days, ({ capacity }) => capacity);
    const places = Float64Array.from(days, ({ members }) => members);
    const owed = new Float64Array(arcs.length);
    days.forEach(({ session }, d) => {
      if (session) total += prices.minute[d]! * spare[d]! + prices.place[d]! * places[d]!;
    });
    items.forEach((_, i) => {
      let entry = 0;
      let reward = 0;
      arcs.forEach(({ item, need }, a) => {
        if (item === i) entry += prices.need[a]!;
        if (need === i) reward += prices.need[a]!;
      });
      const course = bestCourse(courses[i]!, days, prices, entry, earliest[i]!, reward);
      total += course.value;
      course.minutes.forEach((m, d) => {
        if (m < 0) return;
        spare[d]! -= m;
        places[d]! -= 1;
      });
      arcs.forEach(({ item, need }, a) => {
        if (item === i && course.starts) owed[a]! -= 1;
        if (need === i && course.getsReady) owed[a]! += 1;
      });
    });
    if (best === Infinity || total < best - 1e-6 * Math.abs(best)) {
      best = total;
      idle = 0;
    } else if (++idle >= 6) {
      pace /= 2;
      idle = 0;
    }
    let square = 0;
    days.forEach(({ session }, d) => {
      if (!session) return;
      if (prices.minute[d]! > 0 || spare[d]! < 0) square += (spare[d]! / block) ** 2;
      if (prices.place[d]! > 0 || places[d]! < 0) square += places[d]! ** 2;
    });
    arcs.forEach((_, a) => {
      if (prices.need[a]! > 0 || owed[a]! < 0) square += owed[a]! ** 2;
    });
    if (square === 0 || best <= enough || total - area <= 1e-9 * Math.abs(area)) break;
    const step = (pace * (total - area)) / square;
    days.forEach((_, d) => {
      prices.minute[d] = Math.max(0, prices.minute[d]! - (step * spare[d]!) / block / block);
      prices.place[d] = Math.max(0, prices.place[d]! - step * places[d]!);
    });
    arcs.forEach((_, a) => {
      prices.need[a] = Math.max(0, prices.need[a]! - step * owed[a]!);
    });
  }
  return Math.max(best, area);
}
