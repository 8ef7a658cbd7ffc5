/** Finds the current practice set from the logs. */
import type { PracticeEntry } from '../core/types.ts';

/** Number of days that a technique stays in the set without practice. */
export const setRetentionDays = 7;

/**
 * Techniques in the set on a morning: practised within the last seven days, unless on a later day as many other
 * techniques as the set can contain were practised (then it was replaced). Those longest in the set come first.
 *
 * @param size largest number of techniques in the set
 */
export function setFromLogs(practice: readonly PracticeEntry[], asOfDay: number, size: number): string[] {
  const days = new Map<number, Set<string>>();
  for (const { day, technique, minutes } of practice) {
    if (!(day <= asOfDay && minutes > 0)) continue;
    days.set(day, (days.get(day) ?? new Set()).add(technique));
  }
  const latest = [...days].sort((a, b) => b[0] - a[0]);
  const since = new Map<string, number>();
  const replaced = new Set<string>();
  for (const [day, techniques] of latest) {
    if (day >= asOfDay - setRetentionDays) {
      for (const id of techniques) if (!replaced.has(id) && !since.has(id)) since.set(id, day);
      if (techniques.size < size) continue;
      for (const id of new Set(latest.flatMap(([, all]) => [...all]))) {
        if (!techniques.has(id) && !since.has(id)) replaced.add(id);
      }
    } else {
      // Finds how long each has been in the set, without a gap of more than seven days.
      for (const id of techniques)
        if ((since.get(id) ?? Infinity) - day <= setRetentionDays) since.set(id, day);
    }
  }
  // Within the last seven days, the first day of practice counts, too.
  for (const [day, techniques] of latest) {
    if (day < asOfDay - setRetentionDays) break;
    for (const id of techniques) if (since.has(id)) since.set(id, Math.min(since.get(id)!, day));
  }
  return [...since].sort((a, b) => a[1] - b[1] || (a[0] < b[0] ? -1 : 1)).map(([id]) => id);
}

/** Days since each technique was last practised. */
export function daysSincePractice(practice: readonly PracticeEntry[], asOfDay: number): Map<string, number> {
  const idle = new Map<string, number>();
  for (const { day, technique, minutes } of practice) {
    if (!(day <= asOfDay && minutes > 0)) continue;
    idle.set(technique, Math.min(idle.get(technique) ?? Infinity, asOfDay - day));
  }
  return idle;
}
