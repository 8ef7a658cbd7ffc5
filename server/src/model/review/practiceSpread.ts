/** Whether a week's practice of one technique was crowded into fewer days than it could have had. */
import type { Constants } from '../core/constants.ts';
import { dose } from '../skill/practiceState.ts';
import type { PracticeEntry } from '../core/types.ts';

/** How a technique's practice was distributed over the days of a week. */
export interface PracticeSpread {
  readonly minutes: number;
  readonly blocks: number;
  /** Days on which it was practised. */
  readonly days: number;
  /** Number of days on which it could have been practised: one for each block, at most the days with any practice. */
  readonly possibleDays: number;
  /**
   * By what share the effective practice would have been greater if the same attempts had been spread over those
   * days, because each further minute on one day counts for less.
   */
  readonly wouldCount: number;
}

/**
 * @param entries the week's practice of the technique
 * @param practiceDays days of the week on which anything was practised
 * @param pace attempts per minute, for blocks whose attempts were not counted
 */
export function practiceSpread(
  entries: readonly PracticeEntry[],
  practiceDays: number,
  pace: number,
  constants: Constants,
): PracticeSpread {
  const byDay = new Map<number, { minutes: number; attempts: number }>();
  for (const { day, minutes, attempts } of entries) {
    const sum = byDay.get(day) ?? { minutes: 0, attempts: 0 };
    byDay.set(day, { minutes: sum.minutes + minutes, attempts: sum.attempts + (attempts ?? minutes * pace) });
  }
  const days = [...byDay.values()];
  const minutes = days.reduce((sum, day) => sum + day.minutes, 0);
  const attempts = days.reduce((sum, day) => sum + day.attempts, 0);
  const counted = days.reduce((sum, day) => sum + dose(day.attempts, day.minutes, 0, constants), 0);
  const possibleDays = Math.max(days.length, Math.min(entries.length, practiceDays));
  const even =
    possibleDays > 0 ? possibleDays * dose(attempts / possibleDays, minutes / possibleDays, 0, constants) : 0;
  const wouldCount = counted > 0 ? Math.max(0, even / counted - 1) : 0;
  return { minutes, blocks: entries.length, days: days.length, possibleDays, wouldCount };
}
