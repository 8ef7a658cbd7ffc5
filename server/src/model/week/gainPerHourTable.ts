/** Computes the gain per hour of practising one technique, for every starting level. */
import type { Constants } from '../core/constants.ts';
import { dose } from '../skill/practiceState.ts';
import { levelStep, readLevelTable } from './levelTable.ts';
import type { LevelTable } from './levelTable.ts';

/**
 * Gain in seconds per hour of daily blocks, up to the best stopping point within `horizon` blocks, by the level at
 * which they begin.
 *
 * @param saved expected seconds saved, by level
 * @param pace attempts per minute
 */
export function gainPerHourTable(
  saved: LevelTable,
  pace: number,
  blockMinutes: number,
  horizon: number,
  constants: Constants,
): LevelTable {
  const added = pace * dose(blockMinutes, blockMinutes, 0, constants) * (1 + constants.overnightGain);
  const hours = blockMinutes / 60;
  const values = saved.values.map((here, i) => {
    let effective = constants.unitPractice * Math.expm1(saved.from + i * levelStep);
    let best = 0;
    for (let n = 1; n <= horizon; n++) {
      effective += added;
      const gain = readLevelTable(saved, Math.log1p(effective / constants.unitPractice)) - here;
      best = Math.max(best, gain / (n * hours));
    }
    return best;
  });
  return { from: saved.from, step: saved.step, values };
}
