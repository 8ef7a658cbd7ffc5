/** Forecasts for daily blocks of practice: levels of practice, expected gains and landing rates. */
import type { Constants } from '../core/constants.ts';
import type { PracticeHistory } from './practiceHistory.ts';
import { clamp, minutesPerDay } from '../core/numbers.ts';
import {
  chanceRunRateAbove,
  expectationFunction,
  meanPracticeRate,
  practiceLogits,
} from './rateEstimates.ts';
import type { SkillPosterior } from './skillPosterior.ts';
import { applyPractice, levelOnMorning } from './practiceState.ts';
import type { RateTable } from '../core/rateTable.ts';

/** Levels of practice on the morning after n daily blocks, and on the same morning without them; n from 0. */
export interface PracticeLevels {
  readonly practised: Float64Array;
  readonly idle: Float64Array;
}

/** Shortest block that can be planned, minutes. */
const shortestBlock = 1;

/**
 * Minutes of a block, limited to the range that can be planned.
 *
 * @example
 * clampBlockMinutes(25) // 25
 * clampBlockMinutes(0) // 1
 */
export function clampBlockMinutes(minutes: number): number {
  return clamp(minutes, shortestBlock, minutesPerDay);
}

/** The levels for one block a day from `asOfDay` on; each is the level on the morning after the last block. */
export function forecastLevels(
  history: PracticeHistory,
  asOfDay: number,
  blockMinutes: number,
  constants: Constants,
): PracticeLevels {
  const blocks = Math.round(constants.horizonBlocks);
  const minutes = clampBlockMinutes(blockMinutes);
  const practised = new Float64Array(blocks + 1);
  const idle = new Float64Array(blocks + 1);
  let state = history.state;
  for (let n = 0; n <= blocks; n++) {
    const day = asOfDay + n;
    practised[n] = levelOnMorning(state, day, constants);
    idle[n] = levelOnMorning(history.state, day, constants);
    state = applyPractice(state, day, history.pace * minutes, minutes, constants).state;
  }
  return { practised, idle };
}

/**
 * Expected drop in V, in seconds, after n blocks compared with no practice, for n from 0. Never falls as n rises.
 *
 * @param at expected value of `saved` at a level of practice; a caller that asks for many curves has it at less cost
 */
export function gainCurve(
  posterior: SkillPosterior,
  levels: PracticeLevels,
  saved: RateTable,
  at = expectationAtLevel(posterior, saved),
): Float64Array {
  const idle = idleCurve(levels.idle, at);
  const gains = levels.practised.map((x, n) => (n === 0 ? 0 : Math.max(0, at(x) - idle[n]!)));
  return gains;
}

function expectationAtLevel(posterior: SkillPosterior, saved: RateTable): (level: number) => number {
  const expected = expectationFunction(posterior, saved);
  return (level) => expected(practiceLogits(posterior, level));
}

/**
 * Expected values while nothing is practised. The levels change so little that a parabola through three points is
 * enough, unless its peak lies between them: without practice the expectation never rises, so this curve must not
 * rise either.
 */
function idleCurve(idle: Float64Array, at: (level: number) => number): Float64Array {
  const first = idle[0]!;
  const last = idle.at(-1)!;
  if (Math.abs(first - last) < 1e-9) return new Float64Array(idle.length).fill(at(first));
  if (Math.abs(first - last) > 0.7 || first < last) return idle.map(at);
  const middle = (first + last) / 2;
  const [a, b, c] = [at(first), at(middle), at(last)];
  if (2 * Math.abs(a + c - 2 * b) > Math.abs(c - a)) return idle.map(at);
  const half = (last - first) / 2;
  return idle.map((x) => {
    const t = (x - middle) / half;
    return b + (t * (c - a)) / 2 + (t * t * (a + c - 2 * b)) / 2;
  });
}

/**
 * The smallest n below `count` with `holds(n)`; null if there is none. `holds` must change from false to true at
 * most once as n rises.
 *
 * @example
 * binarySearchFirst(10, (n) => n * n >= 30) // 6
 * binarySearchFirst(5, (n) => n * n >= 30) // null
 */
export function binarySearchFirst(count: number, holds: (n: number) => boolean): number | null {
  if (count <= 0 || !holds(count - 1)) return null;
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/**
 * Fewest daily blocks until the mean landing rate in practice reaches `readyRate`, so that techniques that need
 * this one can be practised; null beyond the horizon.
 */
export function blocksToReady(
  posterior: SkillPosterior,
  levels: PracticeLevels,
  constants: Constants,
): number | null {
  return binarySearchFirst(
    levels.practised.length,
    (n) =>
      meanPracticeRate(posterior, practiceLogits(posterior, levels.practised[n]!)) >= constants.readyRate,
  );
}

/**
 * Fewest daily blocks after which the landing rate in a run is above the one with log odds `edge`, at the given
 * shares of the posterior; null beyond the horizon.
 */
export function blocksToExceed(
  posterior: SkillPosterior,
  levels: PracticeLevels,
  edge: number,
  shares: readonly number[],
): (number | null)[] {
  const cached = new Map<number, number>();
  const chance = (n: number): number => {
    let value = cached.get(n);
    if (value === undefined) {
      value = chanceRunRateAbove(posterior, practiceLogits(posterior, levels.practised[n]!), edge);
      cached.set(n, value);
    }
    return value;
  };
  return shares.map((share) => binarySearchFirst(levels.practised.length, (n) => chance(n) >= share));
}
