import type { PracticeEntry } from '../core/types.ts';

/** A technique that was practised on a day, with its minutes of that day. */
export interface PractisedTechnique {
  readonly technique: string;
  readonly minutes: number;
}

/**
 * What was practised on a day, in the order in which the techniques were begun.
 *
 * @param day day number
 */
export function practisedOn(practice: readonly PracticeEntry[], day: number): PractisedTechnique[] {
  const minutes = new Map<string, number>();
  const ofDay = practice.filter((entry) => entry.day === day).sort((a, b) => a.order - b.order);
  for (const entry of ofDay)
    minutes.set(entry.technique, (minutes.get(entry.technique) ?? 0) + entry.minutes);
  return [...minutes].map(([technique, sum]) => ({ technique, minutes: sum }));
}
