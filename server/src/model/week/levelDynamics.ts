/** Computes a technique's level of practice from one morning to the next. */
import { dose } from '../skill/practiceState.ts';
import type { Constants } from '../core/constants.ts';
import type { PlanItem, PlanProblem } from './planProblem.ts';
import { readLevelTable } from './levelTable.ts';

/** The levels of practice in one planning problem. */
export interface LevelDynamics {
  /** Level on the first morning. */
  readonly start: Float64Array;
  /** Level without any practice, on the morning of each day: `idleLevels[item][day]`. */
  readonly idleLevels: readonly Float64Array[];
  /** Seconds saved without any practice, on the morning after each day: `idle[item][day]`. */
  readonly idle: readonly Float64Array[];
  /** The level on the next morning, after `minutes` of practice of an item on a day that began at `level`. */
  readonly next: (item: number, day: number, level: number, minutes: number) => number;
}

function levelFromEffective(effective: number, { unitPractice }: Constants): number {
  return Math.log1p(Math.max(0, effective) / unitPractice);
}

/**
 * Creates the level dynamics of a problem. Overnight gain is added before forgetting, as in `practiceState.ts`.
 * Future runs are not included.
 */
export function createLevelDynamics(problem: PlanProblem): LevelDynamics {
  const { items, constants, minutes: days } = problem;
  const { unitPractice, overnightGain } = constants;
  const kept = 2 ** (-1 / constants.halfLife);
  const doses = new Map<number, number>();
  // Effective minutes of practice, because attempts are made at a constant pace.
  const effectiveMinutes = (minutes: number, before: number): number => {
    const key = before * 2048 + minutes;
    let cached = doses.get(key);
    if (cached === undefined) {
      cached = dose(minutes, minutes, before, constants);
      doses.set(key, cached);
    }
    return cached;
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
  const idleLevels = items.map((_, i) => {
    let after = start[i]!;
    return Float64Array.from(days, (_, d) => {
      const level = after;
      after = next(i, d, level, 0);
      return level;
    });
  });
  const idle = items.map(({ saved }, i) =>
    idleLevels[i]!.map((level, d) => readLevelTable(saved, next(i, d, level, 0))),
  );
  return { start, idleLevels, idle, next };
}

/**
 * Expected gain of one technique on each morning, from its minutes on each day: seconds saved compared with no
 * practice.
 */
export function gainForecast(
  problem: PlanProblem,
  dynamics: LevelDynamics,
  item: number,
  minutes: ArrayLike<number>,
): { readonly gains: Float64Array; readonly levels: Float64Array } {
  const days = problem.minutes.length;
  const gains = new Float64Array(days);
  const levels = new Float64Array(days);
  let level = dynamics.start[item]!;
  let touched = false;
  for (let d = 0; d < days; d++) {
    const today = minutes[d] ?? 0;
    touched ||= today > 0;
    level = dynamics.next(item, d, level, today);
    levels[d] = level;
    if (touched) gains[d] = readLevelTable(problem.items[item]!.saved, level) - dynamics.idle[item]![d]!;
  }
  return { gains, levels };
}
