/**
 * The reset line: after which segment, and later than what time, a run is better given up.
 *
 * What counts is beaten targets for each hour of clock, restarts included, over an endless row of runs (renewal
 * reward). For a price ρ on a second of clock, going on is worth it where the chance to beat the target less ρ times
 * the seconds still to be spent is above zero; the price at which a whole run is worth exactly its restart is the
 * best rate there is (Dinkelbach 1967, Management Science 13). Worked backwards segment by segment, so that every
 * later decision is counted in. A run that ends in a segment costs half of it.
 */
import { propagateBackward, leftReach, coveringWindow } from './backwardInduction.ts';
import type { GridWindow } from './backwardInduction.ts';
import { coarsenPlan } from './coarsenPlan.ts';
import { advanceThroughSegment, startOfRun, truncateAfter, totalMass } from './timeDistribution.ts';
import type { StageDistribution } from './timeDistribution.ts';
import { shareUnder } from './timeStatistics.ts';
import { itemSetsAfter } from './runPlan.ts';
import type { RunPlan } from './runPlan.ts';

/** For each segment, the last grid point after it at which the run goes on; Infinity: it always does. */
export type LineThresholds = readonly number[];

/** A plan played under a line. */
export interface LineOutcome {
  /** Chance that a run started beats the target. */
  readonly success: number;
  /** Clock seconds a run started takes, its restart included. */
  readonly clock: number;
  /** After each segment, before anybody resets there; runs given up earlier are gone. */
  readonly stages: readonly StageDistribution[];
}

export interface ResetLine {
  readonly line: LineThresholds;
  /** For each segment, the time in seconds after which to reset; null: never. */
  readonly times: readonly (number | null)[];
  /** Beaten targets an hour of clock under the line, and without one. */
  readonly perHour: { readonly line: number; readonly never: number };
}

/** Each round squares what is left to gain, so that after a gain this small the next would not show. */
const leastGain = 1e-4;

/** From this many grid points on, a grid so many times as wide is searched first. */
const manyPoints = 1500;
const guessFactor = 8;

/** More rounds than any plan has been seen to need, by far. */
const mostRounds = 40;

/** A time that fewer than this share of the runs that get there exceed needs no decision. */
const hardlyEver = 1e-6;

/** Chances below this are rounding. */
const leastChance = 1e-12;

/** The line that never resets. */
export function neverReset(plan: RunPlan): LineThresholds {
  return plan.segments.map(() => Infinity);
}

function mean(stage: StageDistribution, step: number): number {
  let mass = 0;
  let moment = 0;
  for (const { from, values } of stage.massesByItems.values()) {
    for (let i = 0; i < values.length; i++) {
      mass += values[i]!;
      moment += values[i]! * (from + i);
    }
  }
  return stage.origin + (mass > 0 ? moment / mass : 0) * step;
}

/** The line that resets when behind the target's pace: the usual time so far, in proportion to the whole. */
export function resetWhenBehind(
  plan: RunPlan,
  stages: readonly StageDistribution[],
  target: number,
): LineThresholds {
  const means = stages.map((stage) => mean(stage, plan.step));
  const whole = means.at(-1) ?? 0;
  return stages.map((stage, s) => {
    if (s === stages.length - 1 || !(whole > 0)) return Infinity;
    return Math.floor((means[s]! * (target / whole) - stage.origin) / plan.step + 1e-9);
  });
}

/** Plays a plan under a line. */
export function playUnderLine(plan: RunPlan, line: LineThresholds, target: number): LineOutcome {
  let stage = startOfRun;
  let clock = plan.restart;
  const stages: StageDistribution[] = [];
  plan.segments.forEach((segment, s) => {
    for (const [hand, { values }] of stage.massesByItems) {
      let mass = 0;
      for (let i = 0; i < values.length; i++) mass += values[i]!;
      clock += mass * segment.clock.get(hand)!;
    }
    const after = advanceThroughSegment(stage, segment);
    stages.push(after);
    stage = truncateAfter(after, s === plan.segments.length - 1 ? Infinity : line[s]!);
  });
  return { success: successOf(plan, stage, target), clock, stages };
}

function successOf(plan: RunPlan, stage: StageDistribution, target: number): number {
  let sum = 0;
  for (const { from, values } of stage.massesByItems.values()) {
    for (let i = 0; i < values.length; i++) {
      const share = shareUnder(stage.origin + (from + i) * plan.step, target, plan.step, plan.scatters);
      if (share === 0) break;
      sum += share * values[i]!;
    }
  }
  return sum < leastChance ? 0 : sum;
}

/**
 * Beaten targets a second of clock. A clock that does not move beats nothing.
 *
 * @example
 * beatenPerSecond({ success: 0.1, clock: 50 }) // 0.002
 */
export function beatenPerSecond({ success, clock }: Pick<LineOutcome, 'success' | 'clock'>): number {
  return clock > 0 ? success / clock : 0;
}

/** Where to draw the line after one segment, from what going on is worth at each point for each hand. */
function lastWorthwhile(
  worth: ReadonlyMap<number, Float64Array>,
  at: GridWindow,
  reached: StageDistribution,
): number {
  const [only] = worth.values();
  if (worth.size === 1 && only !== undefined) {
    // The later, the less it is worth: the last point above zero is the line.
    let last = only.length - 1;
    while (last >= 0 && !(only[last]! > 0)) last--;
    return last;
  }
  // The line knows the time only: weigh what is in hand by how often it is, and take the best sum from the left.
  let best = 0;
  let last = -1;
  let sum = 0;
  for (let i = 0; i < at.count; i++) {
    for (const [hand, values] of worth) {
      const masses = reached.massesByItems.get(hand);
      if (masses !== undefined) sum += (masses.values[at.from + i - masses.from] ?? 0) * values[i]!;
    }
    if (sum >= best && sum > 0) {
      best = sum;
      last = i;
    }
  }
  return last;
}

/** The time between two grid points at which going on is worth nothing. */
function crossing(worth: ReadonlyMap<number, Float64Array>, last: number): number {
  const [only] = worth.values();
  if (worth.size !== 1 || only === undefined || last < 0) return last + 0.5;
  const above = only[last]!;
  const below = only[last + 1]!;
  return last + above / (above - below);
}

interface Drawn {
  readonly line: number[];
  readonly times: (number | null)[];
}

/** Values at a stage, on its window. */
interface StageValues {
  readonly at: GridWindow;
  readonly values: ReadonlyMap<number, Float64Array>;
  /** Last grid point from which anything can still come; Infinity where every point has a chance. */
  readonly last: number;
}

/** What the end of the run is worth: the target beaten or not. */
function atEnd(plan: RunPlan, full: GridWindow, origin: number, target: number): StageValues {
  const { segments, step, scatters } = plan;
  const share = (i: number): number => shareUnder(origin + (full.from + i) * step, target, step, scatters);
  let good = full.count;
  while (good > 0 && share(good - 1) === 0) good--;
  const at = { from: full.from, count: Math.min(full.count, good + 1) };
  const reward = Float64Array.from({ length: at.count }, (_, i) => share(i));
  return {
    at,
    values: new Map(itemSetsAfter(segments.at(-1)!).map((hand) => [hand, reward])),
    last: good < full.count ? full.from + good - 1 : Infinity,
  };
}

/** The part of a window in which the next decision can still go either way, and one point beyond. */
function worthLooking(full: GridWindow, last: number): GridWindow {
  return { from: full.from, count: Math.max(1, Math.min(full.count, last + 2 - full.from)) };
}

/** The best line at price `rate` for a second of clock. */
function optimalLineAtPrice(
  plan: RunPlan,
  windows: readonly GridWindow[],
  reached: readonly StageDistribution[],
  target: number,
  rate: number,
): Drawn {
  const { segments, step } = plan;
  const final = segments.length - 1;
  const line = new Array<number>(segments.length).fill(Infinity);
  const times = new Array<number | null>(segments.length).fill(null);
  let next = atEnd(plan, windows[final]!, reached[final]!.origin, target);
  for (let s = final - 1; s >= 0; s--) {
    const segment = segments[s + 1]!;
    const full = windows[s]!;
    const here = worthLooking(full, next.last + leftReach(segment));
    const worth = propagateBackward(next.values, next.at, segment, here);
    for (const [hand, own] of worth) {
      const price = rate * segment.clock.get(hand)!;
      for (let i = 0; i < own.length; i++) own[i]! -= price;
    }
    const last = lastWorthwhile(worth, here, reached[s]!);
    if (last === full.count - 1) {
      next = { at: here, values: worth, last: Infinity };
      continue;
    }
    line[s] = here.from + last;
    times[s] = reached[s]!.origin + (here.from + crossing(worth, last)) * step;
    for (const own of worth.values()) own.fill(0, last + 1);
    next = { at: here, values: worth, last: line[s]! };
  }
  return { line, times };
}

interface Candidate {
  readonly drawn: Drawn;
  readonly played: LineOutcome;
}

/** Takes away decisions that hardly any run ever meets, where nothing is lost by it. */
function simplified(plan: RunPlan, best: Candidate, target: number): Candidate {
  const line = [...best.drawn.line];
  const times = [...best.drawn.times];
  best.played.stages.forEach((stage, s) => {
    if (line[s] === Infinity) return;
    const all = totalMass(stage.massesByItems);
    const later = all - totalMass(truncateAfter(stage, line[s]!).massesByItems);
    if (later > hardlyEver * all) return;
    line[s] = Infinity;
    times[s] = null;
  });
  if (line.every((last, s) => last === best.drawn.line[s])) return best;
  const played = playUnderLine(plan, line, target);
  return beatenPerSecond(played) < beatenPerSecond(best.played) * (1 - 1e-9)
    ? best
    : { drawn: { line, times }, played };
}

function timesOfLine(
  plan: RunPlan,
  line: LineThresholds,
  stages: readonly StageDistribution[],
): (number | null)[] {
  return line.map((last, s) => (last === Infinity ? null : stages[s]!.origin + (last + 0.5) * plan.step));
}

/**
 * The best reset line for beating `target` (seconds). Never below the rate of {@link neverReset} or of
 * {@link resetWhenBehind}. Exact on the grid; where items are carried, the line, which knows the time and not what
 * is in hand, is the best that a few rounds of improvement reach.
 *
 * @param open the plan played under {@link neverReset}, where that is known already
 */
export function resetLine(
  plan: RunPlan,
  target: number,
  open: LineOutcome = playUnderLine(plan, neverReset(plan), target),
): ResetLine {
  const never = neverReset(plan);
  const hourly = (played: LineOutcome): number => 3600 * beatenPerSecond(played);
  const none = { line: never, times: never.map(() => null) };
  const lowest = { ...none, perHour: { line: hourly(open), never: hourly(open) } };
  if (plan.segments.length === 0 || beatenPerSecond(open) === 0) return lowest;

  const windows = open.stages.map((stage) => coveringWindow(stage.massesByItems.values()));
  const behind = resetWhenBehind(plan, open.stages, target);
  let best: Candidate = { drawn: { ...none, line: [...never] }, played: open };
  const consider = (drawn: Drawn): number => {
    const played = playUnderLine(plan, drawn.line, target);
    const gain = beatenPerSecond(played) / beatenPerSecond(best.played) - 1;
    if (gain > 1e-12) best = { drawn, played };
    return gain;
  };
  consider({ line: [...behind], times: timesOfLine(plan, behind, open.stages) });
  if (windows.at(-1)!.count > manyPoints) {
    // A wider grid finds nearly the same line for a fraction of the work; a round here then makes it exact.
    const guess = resetLine(coarsenPlan(plan, guessFactor), target).times;
    const line = guess.map((time, s) =>
      time === null ? Infinity : Math.floor((time - open.stages[s]!.origin) / plan.step),
    );
    consider({ line, times: timesOfLine(plan, line, open.stages) });
  }
  for (let round = 0; round < mostRounds; round++) {
    // The best so far prices the clock; a line drawn at that price can only be better.
    const drawn = optimalLineAtPrice(plan, windows, best.played.stages, target, beatenPerSecond(best.played));
    if (consider(drawn) < leastGain) break;
  }
  const chosen = simplified(plan, best, target);
  return {
    line: chosen.drawn.line,
    times: chosen.drawn.times,
    perHour: { line: hourly(chosen.played), never: hourly(open) },
  };
}
