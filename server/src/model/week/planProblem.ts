/** The week as plain data: what can be practised, when, and what a plan of it is. */
import type { Constants } from '../core/constants.ts';
import type { LevelTable } from './levelTable.ts';

/** A technique that can be practised. */
export interface PlanItem {
  readonly id: string;
  /** Effective attempts on the first morning, doses of that day that its night adds to, and minutes of that day. */
  readonly effective: number;
  readonly pending: number;
  readonly minutesToday: number;
  /** Attempts a minute. */
  readonly pace: number;
  /** Expected seconds that it saves a run, by level of practice. */
  readonly saved: LevelTable;
  /** Seconds gained per hour of practice from that level on, up to the best stop. */
  readonly rate: LevelTable;
  /** The rate it is at least taken at while something waits for it to be ready. */
  readonly opens: number;
  /** Numbers of the items that must be ready before it is practised. */
  readonly needs: readonly number[];
  /** Level from which it is ready for what needs it. */
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
  /** Minutes free for practice on each day, the first being the one asked about; rests included. */
  readonly minutes: readonly number[];
  /** Asked length of a block, minutes. */
  readonly blockMinutes: number;
  /** Share of the best outside's rate below which a technique leaves that is not competent. */
  readonly leavingShare: number;
  readonly constants: Constants;
}

/** One day of a plan. */
export interface ScheduledDay {
  /** Numbers of the items in the set. */
  readonly members: readonly number[];
  /** Items that left the set this morning, each with the one that took its place and whether it was competent. */
  readonly left: readonly {
    readonly item: number;
    readonly replacedBy: number;
    readonly competent: boolean;
  }[];
  /** Items block by block. */
  readonly blocks: readonly number[];
  /** Minutes of each block. */
  readonly length: number;
}

export interface Schedule {
  readonly days: readonly ScheduledDay[];
  /** Techniques the set holds at most. */
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
