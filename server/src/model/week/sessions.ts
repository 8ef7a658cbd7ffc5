/** Divides the minutes of a day into blocks and rests. */
import { clamp, finiteOr, minutesPerDay } from '../core/numbers.ts';

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

/** Minutes that each technique may be practised on a day before which none was practised. */
function fullRooms(techniques: number): number[] {
  return Array.from({ length: Math.max(0, techniques) }, () => sessionLimits.onOne);
}

/** A number of blocks that fits into a day, at the greatest length at which it does. */
interface FittingBlocks extends SessionShape {
  /** Whether the minutes that remain are too few for another block, even without its rest. */
  readonly fills: boolean;
}

/** Every number of blocks that fits into the minutes and into the rooms of the techniques. */
function fittingBlocks(free: number, rooms: readonly number[]): FittingBlocks[] {
  const fitting: FittingBlocks[] = [];
  for (let blocks = 1; ; blocks++) {
    const length = longestBlockThatFits(blocks, free, rooms);
    if (length === 0) return fitting;
    const fills = free - minutesOfSession({ blocks, length }) < sessionLimits.shortest;
    fitting.push({ blocks, length, fills });
  }
}

/** Greatest length, in whole minutes, at which this number of blocks fits; 0 if not even the shortest blocks fit. */
function longestBlockThatFits(blocks: number, free: number, rooms: readonly number[]): number {
  for (let length: number = sessionLimits.longest; length >= sessionLimits.shortest; length--) {
    if (minutesOfSession({ blocks, length }) > free) continue;
    if (rooms.reduce((sum, room) => sum + Math.floor(room / length), 0) >= blocks) return length;
  }
  return 0;
}

/**
 * Of the numbers of blocks that fill the day (or, where none does, that practise most of it), the one whose length
 * is nearest to the preferred one. If two come equally near (within a minute), the greater number is used.
 */
function nearestToPreferred(
  fitting: readonly FittingBlocks[],
  preferred: number,
  techniques: number,
): SessionShape {
  const most = fitting.reduce((sum, { blocks, length }) => Math.max(sum, blocks * length), 0);
  const filling = fitting.filter(({ fills }) => fills);
  const possible =
    filling.length > 0 ? filling : fitting.filter(({ blocks, length }) => blocks * length === most);
  let best = emptySession;
  let nearest = Infinity;
  for (const { blocks, length } of possible) {
    const away = Math.abs(length - preferred);
    // If there are not more blocks than techniques, the length may differ by one minute more.
    if (away > nearest + (blocks <= techniques ? 1 : 0)) continue;
    nearest = Math.min(nearest, away);
    best = { blocks, length };
  }
  return best;
}

function clampedFree(minutes: number): number {
  return clamp(finiteOr(minutes, 0), 0, minutesPerDay);
}

function clampedPreferred(preferred: number): number {
  return clamp(finiteOr(preferred, 25), sessionLimits.shortest, sessionLimits.longest);
}

/**
 * The blocks of a day for a number of techniques of which none was practised that day: see
 * {@link fitSessionToRooms}.
 *
 * @example
 * fitSession(60, 30, 2) // { blocks: 2, length: 27 }
 */
export function fitSession(minutes: number, preferred: number, techniques: number): SessionShape {
  return fitSessionToRooms(minutes, preferred, fullRooms(techniques));
}

/**
 * The blocks of a day: so many that fewer minutes remain than a block takes, unless the hour on one technique
 * forbids it, and of these the number whose length is nearest to the preferred one. If every technique can have a
 * block, every technique has one. A day of two hours has at least four blocks.
 *
 * @param minutes free for practice, rests included
 * @param preferred preferred length of a block, minutes
 * @param rooms minutes that each technique may still be practised on that day
 */
export function fitSessionToRooms(
  minutes: number,
  preferred: number,
  rooms: readonly number[],
): SessionShape {
  const free = clampedFree(minutes);
  const techniques = rooms.filter((room) => room >= sessionLimits.shortest).length;
  const fitting = fittingBlocks(free, rooms);
  const most = fitting.length;
  const forTwoHours = free >= sessionLimits.twoHours ? Math.min(sessionLimits.setOfTwoHours, techniques) : 1;
  const least = Math.min(most, techniques <= most ? techniques : forTwoHours);
  return nearestToPreferred(
    fitting.filter(({ blocks }) => blocks >= least),
    clampedPreferred(preferred),
    techniques,
  );
}

/** The number of blocks of a day if any number of techniques may share it. */
function preferredBlocks(minutes: number, preferred: number): number {
  const free = clampedFree(minutes);
  const fitting = fittingBlocks(free, fullRooms(sessionLimits.set));
  const least = free >= sessionLimits.twoHours ? sessionLimits.setOfTwoHours : 1;
  return nearestToPreferred(
    fitting.filter(({ blocks }) => blocks >= least),
    clampedPreferred(preferred),
    sessionLimits.set,
  ).blocks;
}

/** The rules that can forbid to use free minutes for practice. */
export const unusedRules = ['short-block', 'hour-on-one', 'nothing-to-practise', 'rests'] as const;

/**
 * Why minutes of a day stay unused: they are fewer than the shortest block; every technique of the set has its hour
 * that day; nothing can be practised; the rest before a block leaves too little for the block.
 */
export type UnusedRule = (typeof unusedRules)[number];

/** Free minutes of a day that the plan does not use, and the rule that forbids their use. */
export interface UnusedMinutes {
  readonly minutes: number;
  readonly rule: UnusedRule;
}

/**
 * The free minutes of a day that its blocks and rests do not take; null if there are none.
 *
 * @param minutes free for practice, rests between blocks included
 * @param restBefore minutes of rest that the day needs before its first block, in addition to `minutes`
 * @param rooms minutes that each technique of the set may still be practised on that day, before these blocks
 *
 * @example
 * unusedMinutes(45, 0, { blocks: 1, length: 30 }, [60]) // { minutes: 15, rule: 'short-block' }
 */
export function unusedMinutes(
  minutes: number,
  restBefore: number,
  shape: SessionShape,
  rooms: readonly number[],
): UnusedMinutes | null {
  const rest = shape.blocks === 0 ? restBefore : 0;
  const unused = Math.floor(clampedFree(minutes) - minutesOfSession(shape) + rest);
  if (unused <= 0) return null;
  const rule = (): UnusedRule => {
    if (unused < sessionLimits.shortest) return 'short-block';
    if (unused - rest < sessionLimits.shortest) return 'rests';
    return rooms.length === 0 ? 'nothing-to-practise' : 'hour-on-one';
  };
  return { minutes: unused, rule: rule() };
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
  const counts = days.map((minutes) => preferredBlocks(minutes, preferred)).filter((blocks) => blocks > 0);
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
