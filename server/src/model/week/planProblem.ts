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
  readonly pinned: boolean;
  /** Whether it is in the practice set on the first morning, and how long it has not been practised, days. */
  readonly inSetAtStart: boolean;
  readonly idleDays: number;
}

export interface PlanProblem {
  /** In the order of the ranking, best first. */
  readonly items: readonly PlanItem[];
  /** Minutes free for practice on each day, rests included. The first day is `asOfDay`. */
  readonly minutes: readonly number[];
  /** Preferred length of a block, minutes. */
  readonly blockMinutes: number;
  /** A technique that is not competent leaves the set if its rate is below this share of the best rate outside. */
  readonly leavingShare: number;
  readonly constants: Constants;
}

/** One day of a plan. */
export interface ScheduledDay {
  /** Numbers of the items in the set. */
  readonly members: readonly number[];
  /** Items that left the set this morning, each with the item that replaced it and whether it was competent. */
  readonly left: readonly {
    readonly item: number;
    readonly replacedBy: number;
    readonly competent: boolean;
  }[];
  /** The item of each block. */
  readonly blocks: readonly number[];
  /** Minutes of each block. */
  readonly length: number;
}

export interface Schedule {
  readonly days: readonly ScheduledDay[];
  /** Largest number of techniques in the set. */
  readonly size: number;
  /** Sum over the mornings of the expected gain, in seconds times days. */
  readonly area: number;
}

/** Blocks of each item on each day: `counts[item][day]`. */
export function blockCounts(problem: PlanProblem, schedule: Schedule): Uint8Array[] {
  const counts = problem.items.map(() => new Uint8Array(schedule.days.length));
  schedule.days.forEach(({ blocks }, d) => {
    for (const item of blocks) counts[item]![d]!++;
  });
  return counts;
}
