/** What the logs say about recent practice, for the practice set. */
import type { PracticeEntry } from '../core/types.ts';

/** Number of days for which a technique in the run keeps its place in the set without practice. */
export const setRetentionDays = 7;

/** Days since each technique was last practised. */
export function daysSincePractice(practice: readonly PracticeEntry[], asOfDay: number): Map<string, number> {
  const idle = new Map<string, number>();
  for (const { day, technique, minutes } of practice) {
    if (!(day <= asOfDay && minutes > 0)) continue;
    idle.set(technique, Math.min(idle.get(technique) ?? Infinity, asOfDay - day));
  }
  return idle;
}
