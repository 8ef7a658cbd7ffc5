/**
 * The reset line: for each segment, the run time above which a reset after that segment is better than continuing.
 *
 * The line maximises the number of beaten targets per hour of clock time, restarts included, over an unlimited
 * number of runs (renewal reward). At a price ρ for each second of clock time, continuing is worth it if the chance
 * to beat the target minus ρ times the expected remaining seconds is above zero. The price at which the value of a
 * whole run equals the price of its restart is the greatest possible rate (Dinkelbach 1967, Management Science 13).
 * Values are computed backwards, segment by segment, so that every later decision is included. A run that ends in a
 * segment takes half of its time.
 */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { propagateBackward, leftReach, coveringWindow } from './backwardInduction.ts';
import type { GridWindow } from './backwardInduction.ts';
import { coarsenPlan } from './coarsenPlan.ts';
import { advanceThroughSegment, startOfRun, truncateAfter, totalMass } from './timeDistribution.ts';
import type { StageDistribution } from './timeDistribution.ts';
import { shareUnder } from './timeStatistics.ts';
import { itemSetsAfter } from './runPlan.ts';
import type { RunPlan } from './runPlan.ts';

/** For each segment, the last grid point after it at which the run continues; Infinity: it always continues. */
export type LineThresholds = readonly number[];

/** The result of playing a plan with a reset line. */
export interface LineOutcome {
  /** Chance that a run started beats the target. */
  readonly success: number;
  /** Mean clock seconds of a started run, including its restart. */
  readonly clock: number;
  /**
   * The distribution after each segment, before the reset decision there. Runs that were reset earlier are no
   * longer included.
   */
  readonly stages: readonly StageDistribution[];
}

export interface ResetLine {
  readonly line: LineThresholds;
  /** For each segment, the run time in seconds above which to reset after it; null: never. */
  readonly times: readonly (number | null)[];
  /** Beaten targets per hour of clock time, with the line and without any reset. */
  readonly perHour: { readonly line: number; readonly never: number };
}

/**
 * The remaining relative gain is about squared in each round, so after a gain below this another round has no
 * visible effect.
 */
const leastGain = 1e-4;

/** With at least this many grid points, a grid coarser by `guessFactor` is searched first. */
const manyPoints = 1500;
const guessFactor = 8;

/** Largest number of rounds; far more than any plan has needed so far. */
const mostRounds = 40;

/** If a smaller share of the runs that reach a segment is above the line there, the line is removed. */
const hardlyEver = 1e-6;

/** Chances below this are rounding errors. */
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

/**
 * The line that resets a run that is behind the target's pace. The pace at a segment is the target time, divided in
 * proportion to the usual times.
 */
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

/** Plays a plan with a reset line. */
export function playUnderLine(plan: RunPlan, line: LineThresholds, target: number): LineOutcome {
  let stage = startOfRun;
  let clock = plan.restart;
  const stages: StageDistribution[] = [];
  plan.segments.forEach((segment, s) => {
    for (const [itemSet, { values }] of stage.massesByItems) {
      let mass = 0;
      for (let i = 0; i < values.length; i++) mass += values[i]!;
      clock += mass * segment.clock.get(itemSet)!;
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
 * Beaten targets per second of clock time; 0 if the clock time is 0.
 *
 * @example
 * beatenPerSecond({ success: 0.1, clock: 50 }) // 0.002
 */
export function beatenPerSecond({ success, clock }: Pick<LineOutcome, 'success' | 'clock'>): number {
  return clock > 0 ? success / clock : 0;
}

/**
 * The last grid point of a window at which continuing is worth it, from the value of continuing at each point for
 * each set of held items.
 */
function lastWorthwhile(
  worth: ReadonlyMap<number, Float64Array>,
  at: GridWindow,
  reached: StageDistribution,
): number {
  const [only] = worth.values();
  if (worth.size === 1 && only !== undefined) {
    // The value falls as time passes, so the line is at the last point with a value above zero.
    let last = only.length - 1;
    while (last >= 0 && !(only[last]! > 0)) last--;
    return last;
  }
  // The line depends only on the time, not on the items held. So the values of the item sets are weighted by their
  // masses and summed from the left; the line is where that sum is greatest.
  let best = 0;
  let last = -1;
  let sum = 0;
  for (let i = 0; i < at.count; i++) {
    for (const [itemSet, values] of worth) {
      const masses = reached.massesByItems.get(itemSet);
      if (masses !== undefined) sum += (masses.values[at.from + i - masses.from] ?? 0) * values[i]!;
    }
    if (sum >= best && sum > 0) {
      best = sum;
      last = i;
    }
  }
  return last;
}

/** The point, between two grid points, at which the value of continuing crosses zero. */
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

/** The values of continuing after a segment, on a window. */
interface StageValues {
  readonly at: GridWindow;
  readonly values: ReadonlyMap<number, Float64Array>;
  /** Last grid point from which the target can still be beaten; Infinity if it can be from every point. */
  readonly last: number;
}

/** The values at the end of the run: the chance that the target is beaten at each grid point. */
function atEnd(plan: RunPlan, full: GridWindow, origin: number, target: number): StageValues {
  const { segments, step, scatters } = plan;
  const share = (i: number): number => shareUnder(origin + (full.from + i) * step, target, step, scatters);
  let good = full.count;
  while (good > 0 && share(good - 1) === 0) good--;
  const at = { from: full.from, count: Math.min(full.count, good + 1) };
  const reward = Float64Array.from({ length: at.count }, (_, i) => share(i));
  return {
    at,
    values: new Map(itemSetsAfter(segments.at(-1)!).map((itemSet) => [itemSet, reward])),
    last: good < full.count ? full.from + good - 1 : Infinity,
  };
}

/** The part of a window that reaches one point beyond `last`. Later points cannot beat the target. */
function worthLooking(full: GridWindow, last: number): GridWindow {
  return { from: full.from, count: Math.max(1, Math.min(full.count, last + 2 - full.from)) };
}

/** The best line at the price `rate` for each second of clock time. */
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
    for (const [itemSet, own] of worth) {
      const price = rate * segment.clock.get(itemSet)!;
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

/** Removes the line after segments where hardly any run exceeds it, if the result is not worse. */
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
 * The best reset line for beating `target` (seconds). Its rate is never below that of {@link neverReset} or {@link
 * resetWhenBehind}. It is exact on the grid if no items are held. With items, the best decision also depends on the
 * items held, which the line does not know; then it is the best line found by a few rounds of improvement.
 *
 * @param open the plan played with {@link neverReset}, if the caller has it already
 */
export const resetLine = inOneGo(resetLineInSteps);

/** The same in steps. */
export function* resetLineInSteps(
  plan: RunPlan,
  target: number,
  open: LineOutcome = playUnderLine(plan, neverReset(plan), target),
): Steps<ResetLine> {
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
    // A coarser grid gives nearly the same line with much less work; one round on this grid then makes it exact.
    const guess = (yield* resetLineInSteps(coarsenPlan(plan, guessFactor), target)).times;
    const line = guess.map((time, s) =>
      time === null ? Infinity : Math.floor((time - open.stages[s]!.origin) / plan.step),
    );
    consider({ line, times: timesOfLine(plan, line, open.stages) });
  }
  for (let round = 0; round < mostRounds; round++) {
    // The rate of the best line so far is the price for clock time; the best line at that price has at least the
    // same rate.
    yield;
    const drawn = optimalLineAtPrice(plan, windows, best.played.stages, target, beatenPerSecond(best.played));
    yield;
    if (consider(drawn) < leastGain) break;
  }
  const chosen = simplified(plan, best, target);
  return {
    line: chosen.drawn.line,
    times: chosen.drawn.times,
    perHour: { line: hourly(chosen.played), never: hourly(open) },
  };
}
