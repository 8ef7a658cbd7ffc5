/** Divides the minutes of a day into blocks and rests. */
import { clamp, finiteOr } from '../core/numbers.ts';

/** The limits for every session: common practice of runners, no source. */
export const sessionLimits = {
  /** Minutes of a block. */
  shortest: 20,
  longest: 30,
  /** Minutes of one technique in one day. */
  onOne: 60,
  /** Minutes between two blocks, and between two blocks after an hour of practice. */
  rest: 5,
  longRest: 10,
  hour: 60,
  /** Days for which a technique that left the set stays out of it. */
  away: 7,
  /** Techniques in the practice set. */
  set: 6,
  /** Fewest techniques in the set if a day has two hours or more. */
  setOfTwoHours: 4,
  twoHours: 120,
} as const;

/** The blocks of one day; all have the same length. */
export interface SessionShape {
  readonly blocks: number;
  /** Minutes of each. */
  readonly length: number;
}

export const emptySession: SessionShape = { blocks: 0, length: 0 };

/**
 * Minutes of rest after each block; 0 after the last one.
 *
 * @example
 * restsAfterBlocks({ blocks: 3, length: 30 }) // [5, 10, 0]
 */
export function restsAfterBlocks({ blocks, length }: SessionShape): number[] {
  let since = 0;
  return Array.from({ length: blocks }, (_, b) => {
    since += length;
    if (b === blocks - 1) return 0;
    if (since < sessionLimits.hour) return sessionLimits.rest;
    since = 0;
    return sessionLimits.longRest;
  });
}

/**
 * Minutes that a day's blocks and rests take.
 *
 * @example
 * minutesOfSession({ blocks: 2, length: 25 }) // 55
 */
export function minutesOfSession(shape: SessionShape): number {
  return shape.blocks * shape.length + restsAfterBlocks(shape).reduce((a, b) => a + b, 0);
}

/**
 * The blocks that fit into a day, with the length nearest to the preferred one. If two numbers of blocks come
 * equally near (within a minute), the greater number is used. The blocks are lengthened to fill the day, within the
 * limits. A day of two hours has at least four blocks.
 *
 * @param minutes free for practice, rests included
 * @param preferred preferred length of a block, minutes
 * @param techniques number of techniques that share the blocks
 */
export function fitSession(minutes: number, preferred: number, techniques: number): SessionShape {
  const free = clamp(finiteOr(minutes, 0), 0, 1440);
  const wanted = clamp(finiteOr(preferred, 25), sessionLimits.shortest, sessionLimits.longest);
  let best = emptySession;
  let nearest = Infinity;
  for (let blocks = 1; techniques > 0; blocks++) {
    const length = longestBlockThatFits(blocks, free, techniques);
    if (length === 0) break;
    if (free >= sessionLimits.twoHours && blocks < Math.min(sessionLimits.setOfTwoHours, techniques))
      continue;
    const away = Math.abs(length - wanted);
    // If there are not more blocks than techniques, the length may differ by one minute more.
    if (away > nearest + (blocks <= techniques ? 1 : 0)) continue;
    nearest = Math.min(nearest, away);
    best = { blocks, length };
  }
  return best;
}

/** Greatest length, in whole minutes, at which this number of blocks fits; 0 if not even the shortest blocks fit. */
function longestBlockThatFits(blocks: number, free: number, techniques: number): number {
  const most = Math.floor(sessionLimits.onOne / Math.ceil(blocks / techniques));
  for (let length = Math.min(sessionLimits.longest, most); length >= sessionLimits.shortest; length--) {
    if (minutesOfSession({ blocks, length }) <= free) return length;
  }
  return 0;
}

/**
 * The possible numbers of techniques in the set: at most the number of blocks on the longest day, at least that on
 * the shortest day; four to six if a day has two hours.
 *
 * @param staying numbers of techniques that must keep their place
 */
export function possibleSetSizes(
  days: readonly number[],
  preferred: number,
  staying: { readonly pinned: number; readonly currentMembers: number },
): number[] {
  const counts = days
    .map((minutes) => fitSession(minutes, preferred, sessionLimits.set).blocks)
    .filter((blocks) => blocks > 0);
  if (counts.length === 0) return [];
  const longest = Math.min(
    sessionLimits.set,
    counts.reduce((a, b) => Math.max(a, b)),
  );
  const most = Math.max(longest, staying.pinned);
  const twoHours = days.some((minutes) => minutes >= sessionLimits.twoHours);
  const shortest = twoHours ? sessionLimits.setOfTwoHours : counts.reduce((a, b) => Math.min(a, b));
  const least = Math.min(most, Math.max(shortest, staying.pinned, staying.currentMembers));
  return Array.from({ length: most - least + 1 }, (_, n) => most - n);
}
