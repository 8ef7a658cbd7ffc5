import type { PracticeEntry } from '../core/types.ts';

/** Minutes practised on one day, all techniques together. */
export function minutesPractised(practice: readonly PracticeEntry[], day: number): number {
  return practice.reduce((sum, entry) => (entry.day === day ? sum + entry.minutes : sum), 0);
}
