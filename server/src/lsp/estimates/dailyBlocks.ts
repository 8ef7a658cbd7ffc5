import type { PlannedBlock } from '../../model/rank/rateCurve.ts';
import type { ModelInput } from '../../queries/modelInput.ts';

/** Weeks that are planned and forecast ahead. */
export const weeksAhead = 4;

/** Days of the same. */
export const daysAhead = 7 * weeksAhead;

/** One block a day from the day asked about, as the ranking takes it. */
export function dailyBlocks({ asOfDay, options }: ModelInput): PlannedBlock[] {
  const minutes = options.blockMinutes;
  return Array.from({ length: daysAhead }, (_, i) => ({ day: asOfDay + i, minutes }));
}
