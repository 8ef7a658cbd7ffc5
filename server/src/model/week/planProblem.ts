/** The planning problem and its plans as plain data. */
import type { Constants } from '../core/constants.ts';
import type { LevelTable } from './levelTable.ts';

/** A technique that can be practised. */
export interface PlanItem {
  readonly id: string;
  /**
   * On the first morning: effective attempts, doses of that day so far (the next night adds a share of them), and
   * minutes practised on that day so far.
   */
  readonly effective: number;
  readonly pending: number;
  readonly minutesToday: number;
  /** Attempts per minute. */
  readonly pace: number;
  /** Expected seconds that it saves in a run, by level of practice. */
  readonly saved: LevelTable;
  /** Gain in seconds per hour of practice from a level on, up to the best stopping point. */
  readonly rate: LevelTable;
  /** Smallest rate that is used for it until it is ready, because other techniques need it. */
  readonly opens: number;
  /** Numbers of the items that must be ready before it is practised. */
  readonly needs: readonly number[];
  /** Level from which it is ready for the techniques that need it. */
  readonly readyLevel: number;
  /** Level from which it is competent. */
  readonly competentLevel: number;
  /** Whether the runner wants it in the set: then it never leaves, and enters before all others. */
  readonly pinned: boolean;
  /** Whether it is in the practice set on the first morning. */
  readonly inSetAtStart: boolean;
  /**
   * Whether it is to be worked on again. It is in the set on the first morning, comes before others that have been
   * without practice for equally long, and does not count as competent before it has had
   * {@link blocksUntilCompetentAgain} blocks of the plan.
   */
  readonly again: boolean;
  /** Whether it may enter the set. */
  readonly mayEnter: boolean;
  /** How long it has not been practised on the first morning, days. */
  readonly idleDays: number;
}

/** Blocks of the plan that a technique to be worked on again has before it can count as competent. */
export const blocksUntilCompetentAgain = 2;

export interface PlanProblem {
  /** In the order of the ranking, best first. */
  readonly items: readonly PlanItem[];
  /** Minutes free for practice on each day, rests included. The first day is `asOfDay`. */
  readonly minutes: readonly number[];
  /** Preferred length of a block, minutes. */
  readonly blockMinutes: number;
  readonly constants: Constants;
}

/** One day of a plan. */
export interface ScheduledDay {
  /** Numbers of the items in the set. */
  readonly members: readonly number[];
  /**
   * Items that left the set this morning, each with the item that replaced it; null if there were more members than
   * places.
   */
  readonly left: readonly { readonly item: number; readonly replacedBy: number | null }[];
  /** The item of each block. */
  readonly blocks: readonly number[];
  /** Minutes of each block. */
  readonly length: number;
}

export interface Schedule {
  readonly days: readonly ScheduledDay[];
  /** Number of places in the set. It has more members only if there were more on the first morning. */
  readonly size: number;
  /** Sum over the mornings of the expected gain, in seconds times days. */
  readonly area: number;
}

/** The items in the set on the first morning. */
export function membersAtStart({ items }: PlanProblem): number[] {
  return [...items.keys()].filter((i) => items[i]!.inSetAtStart);
}

/** Blocks of each item on each day: `counts[item][day]`. */
export function blockCounts(problem: PlanProblem, schedule: Schedule): Uint8Array[] {
  const counts = problem.items.map(() => new Uint8Array(schedule.days.length));
  schedule.days.forEach(({ blocks }, d) => {
    for (const item of blocks) counts[item]![d]!++;
  });
  return counts;
}
