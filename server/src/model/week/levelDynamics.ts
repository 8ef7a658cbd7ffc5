/** One technique's level of practice from morning to morning. */
import { dose } from '../skill/practiceState.ts';
import type { Constants } from '../core/constants.ts';
import type { PlanItem, PlanProblem } from './planProblem.ts';
import { readLevelTable } from './levelTable.ts';

/** What the walks of one problem share. */
export interface LevelDynamics {
  /** Level on the first morning. */
  readonly start: Float64Array;
  /** Seconds saved without any practice on each morning, from that of the day after the first: `idle[item][day]`. */
  readonly idle: readonly Float64Array[];
  /** The level on the next morning, after `minutes` of practice of an item on a day at whose morning it was `level`. */
  readonly next: (item: number, day: number, level: number, minutes: number) => number;
}

function levelFromEffective(effective: number, { unitPractice }: Constants): number {
  return Math.log1p(Math.max(0, effective) / unitPractice);
}

/** Makes the walks of a problem. Nights count before forgetting, as in `practice.ts`; runs are not foreseen. */
export function createLevelDynamics(problem: PlanProblem): LevelDynamics {
  const { items, constants, minutes: days } = problem;
  const { unitPractice, overnightGain } = constants;
  const kept = 2 ** (-1 / constants.halfLife);
  const doses = new Map<number, number>();
  // Effective minutes of practice: attempts come at an even pace.
  const effectiveMinutes = (minutes: number, before: number): number => {
    const key = before * 2048 + minutes;
    let known = doses.get(key);
    if (known === undefined) {
      known = dose(minutes, minutes, before, constants);
      doses.set(key, known);
    }
    return known;
  };
  const start = Float64Array.from(items, (item) => levelFromEffective(item.effective, constants));
  const next = (i: number, day: number, level: number, minutes: number): number => {
    const item = items[i]!;
    if (day === 0) return firstNight(item, minutes);
    if (minutes === 0) return level * kept;
    const added = item.pace * effectiveMinutes(minutes, 0) * (1 + overnightGain);
    return Math.log1p(Math.expm1(level) + added / unitPractice);
  };
  const firstNight = (item: PlanItem, minutes: number): number => {
    const added = minutes === 0 ? 0 : item.pace * effectiveMinutes(minutes, item.minutesToday);
    const level = levelFromEffective(
      item.effective + added + overnightGain * (item.pending + added),
      constants,
    );
    return added === 0 && item.pending === 0 ? level * kept : level;
  };
  const idle = items.map((item, i) => {
    let level = start[i]!;
    return Float64Array.from(days, (_, d) => {
      level = next(i, d, level, 0);
      return readLevelTable(item.saved, level);
    });
  });
  return { start, idle, next };
}

/** Expected gain of one technique on each morning, from its minutes on each day: seconds saved against no practice. */
export function gainForecast(
  problem: PlanProblem,
  walk: LevelDynamics,
  item: number,
  minutes: ArrayLike<number>,
): { readonly gains: Float64Array; readonly levels: Float64Array } {
  const days = problem.minutes.length;
  const gains = new Float64Array(days);
  const levels = new Float64Array(days);
  let level = walk.start[item]!;
  let touched = false;
  for (let d = 0; d < days; d++) {
    const today = minutes[d] ?? 0;
    touched ||= today > 0;
    level = walk.next(item, d, level, today);
    levels[d] = level;
    if (touched) gains[d] = readLevelTable(problem.items[item]!.saved, level) - walk.idle[item]![d]!;
  }
  return { gains, levels };
}
