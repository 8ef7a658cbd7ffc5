/** Forecasts techniques that are not practised, for each morning. This forecast is the same in every plan. */
import { readLevelTable } from './levelTable.ts';
import type { PlanProblem } from './planProblem.ts';
import type { LevelDynamics } from './levelDynamics.ts';

/** Levels, rates and readiness without practice, morning by morning. */
export interface IdleForecast {
  /** Level of every item: `levels[day][item]`. */
  readonly levels: readonly Float64Array[];
  /**
   * Gain in seconds per hour at that level, with the gain of the techniques that need it included until it is
   * ready: `rates[day][item]`.
   */
  readonly rates: readonly Float64Array[];
  /** Items that become ready on each morning without practice. */
  readonly becomeReady: readonly (readonly number[])[];
}

export function idleForecast(problem: PlanProblem, { idleLevels }: LevelDynamics): IdleForecast {
  const { items, minutes } = problem;
  const ready = new Uint8Array(items.length);
  const levels: Float64Array[] = [];
  const rates: Float64Array[] = [];
  const becomeReady: number[][] = [];
  for (let day = 0; day < minutes.length; day++) {
    const level = Float64Array.from(idleLevels, (ofItem) => ofItem[day]!);
    const turned: number[] = [];
    const own = new Float64Array(items.length);
    items.forEach(({ rate, opens, readyLevel }, i) => {
      if (ready[i] === 0 && level[i]! >= readyLevel) {
        ready[i] = 1;
        turned.push(i);
      }
      const here = readLevelTable(rate, level[i]!);
      own[i] = ready[i] === 1 ? here : Math.max(here, opens);
    });
    levels.push(level);
    rates.push(own);
    becomeReady.push(turned);
  }
  return { levels, rates, becomeReady };
}
