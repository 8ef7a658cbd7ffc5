import type { PlannedBlock } from '../model/rank/rateCurve.ts';
import type { ModelInput } from './modelInput.ts';
import { weeksAhead } from './weekInput.ts';

/** Number of days that are planned and forecast. */
export const daysAhead = 7 * weeksAhead;

/** One block a day from the input's day on, of the length that the ranking assumes. */
export function dailyBlocks({ asOfDay, options }: ModelInput): PlannedBlock[] {
  const minutes = options.blockMinutes;
  return Array.from({ length: daysAhead }, (_, i) => ({ day: asOfDay + i, minutes }));
}
