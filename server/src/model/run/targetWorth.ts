/**
 * The worth of a landing rate for beating the target: the rise in the chance to beat it in an hour of runs, with a
 * fixed reset line.
 *
 * Only the segments that a technique affects change with its rate. The run before the first of them and everything
 * after the last are computed once for a route; in between, success and clock time are polynomials in the rate, so
 * a few evaluations give the whole table.
 */
import { inOneGo, mapInSteps, type Steps } from '../../incremental/steps.ts';
import { propagateBackward, coveringWindow } from './backwardInduction.ts';
import type { GridWindow } from './backwardInduction.ts';
import { chooseBaseline } from './baseline.ts';
import type { Baseline } from './baseline.ts';
import { layOutRoute } from './routeLayout.ts';
import type { RouteLayout } from './routeLayout.ts';
import { advanceThroughSegment, startOfRun, truncateAfter } from './timeDistribution.ts';
import type { StageDistribution } from './timeDistribution.ts';
import { clamp } from '../core/numbers.ts';
import type { OddsInput } from './odds.ts';
import { buildTechniquePolicy } from './techniquePolicy.ts';
import { choicesOfTechnique, affectedSegments } from './affectedSegments.ts';
import { shareUnder } from './timeStatistics.ts';
import { playUnderLine, resetLineInSteps } from './resetLine.ts';
import type { LineThresholds } from './resetLine.ts';
import type { ChosenOptions } from './playSegments.ts';
import type { LandingRateOf } from './runState.ts';
import { itemSetsAfter, planRun, planSegment } from './runPlan.ts';
import type { PlanBase, RunPlan, SegmentPlan } from './runPlan.ts';
import { tabulate, tabulateInSteps } from '../core/rateTable.ts';
import type { RateTable } from '../core/rateTable.ts';

/**
 * Expected success and clock time of the remaining run after a segment, for each set of held items, on a window; 0
 * where the line resets.
 */
interface RemainingValues {
  readonly at: GridWindow;
  readonly success: ReadonlyMap<number, Float64Array>;
  readonly clock: ReadonlyMap<number, Float64Array>;
}

/** A route with the baseline run, prepared for evaluating other landing rates. */
export interface TargetBaseline {
  readonly input: OddsInput & { readonly target: number };
  readonly layout: RouteLayout;
  readonly base: Baseline;
  readonly planBase: PlanBase;
  readonly plan: RunPlan;
  readonly line: LineThresholds;
  /** Chance to beat the target in an hour of baseline runs. */
  readonly now: number;
  /**
   * Before each segment: the distribution of the time so far, and the mean clock seconds that a started run has
   * spent by then.
   */
  readonly before: readonly { readonly stage: StageDistribution; readonly clock: number }[];
  /** The remaining values after each segment. */
  readonly remaining: readonly RemainingValues[];
}

/** Polynomials of higher degree than this are not worth interpolating. */
const mostDegree = 16;

/**
 * Chance that at least one of an hour's runs beats the target, when each run succeeds with chance `success` and
 * takes `clock` seconds, restart included. The number of runs is 3600 / `clock`, which need not be a whole number.
 *
 * @example
 * chanceInAnHour(0.1, 1800) // 0.19
 */
export function chanceInAnHour(success: number, clock: number): number {
  if (!(clock > 0)) return success > 0 ? 1 : 0;
  return -Math.expm1((3600 / clock) * Math.log1p(-clamp(success, 0, 1)));
}

/** How many grid points techniques can shift a run. The windows of remaining values are wider by this on both sides. */
function roomFor(layout: RouteLayout, planBase: PlanBase): number {
  const byTechnique = new Map<string, number>();
  for (const { options } of layout.choices) {
    for (const { technique, backup, plain, backupPlain, use } of options) {
      const losses = use.misses.reduce((most, { loses }) => Math.max(most, Math.abs(loses)), 0);
      const theirs = backupPlain === null ? 0 : Math.abs(backupPlain.saves) + Math.abs(backupPlain.loses);
      const retries = plain.retrySeconds * Math.min(plain.tries - 1, mostDegree);
      const far = Math.abs(plain.saves) + losses + retries + plain.costs + theirs;
      for (const t of [technique, backup]) {
        if (t !== null) byTechnique.set(t, (byTechnique.get(t) ?? 0) + Math.min(far, 600));
      }
    }
  }
  const far = [...byTechnique.values()].reduce((a, b) => Math.max(a, b), 0);
  return Math.ceil(Math.min(far, 3600) / planBase.step) + 1;
}

/**
 * Prepares the run as it is now: its baseline, its reset line (unless one is given), and the state before and after
 * each segment.
 */
export const buildTargetBaseline = inOneGo(buildTargetBaselineInSteps);

/** The same in steps. */
export function* buildTargetBaselineInSteps(
  input: OddsInput & { readonly target: number },
  line?: LineThresholds,
): Steps<TargetBaseline> {
  const { route, tried, rateOf, constants, target } = input;
  const layout = layOutRoute(route);
  const triedRateOf: LandingRateOf = (technique) =>
    tried.has(technique) ? clamp(rateOf(technique), 0, 1) : 0;
  const base = chooseBaseline(layout, (technique) => tried.has(technique), triedRateOf, constants);
  const { plan, base: planBase } = planRun(
    route,
    layout,
    { played: base.played, rateOf: triedRateOf },
    input.step,
  );
  const usedLine = line ?? (yield* resetLineInSteps(plan, target)).line;
  const played = playUnderLine(plan, usedLine, target);
  const before: { stage: StageDistribution; clock: number }[] = [{ stage: startOfRun, clock: plan.restart }];
  plan.segments.forEach((segment, s) => {
    const { stage, clock } = before[s]!;
    const spent = clockIn(stage, segment.clock);
    before.push({ stage: truncateAfter(played.stages[s]!, usedLine[s]!), clock: clock + spent });
  });
  const room = roomFor(layout, planBase);
  const remaining = yield* computeRemainingValues(plan, usedLine, played.stages, target, room);
  const now = chanceInAnHour(played.success, played.clock);
  return { input, layout, base, planBase, plan, line: usedLine, now, before, remaining };
}

/** Mean clock seconds that a started run spends in a segment. */
function clockIn(stage: StageDistribution, clock: ReadonlyMap<number, number>): number {
  let spent = 0;
  for (const [itemSet, { values }] of stage.massesByItems) {
    const each = clock.get(itemSet) ?? 0;
    for (let i = 0; i < values.length; i++) spent += values[i]! * each;
  }
  return spent;
}

function* computeRemainingValues(
  plan: RunPlan,
  line: LineThresholds,
  stages: readonly StageDistribution[],
  target: number,
  room: number,
): Steps<RemainingValues[]> {
  const { segments, step, scatters } = plan;
  const wide = stages.map((stage): GridWindow => {
    const { from, count } = coveringWindow(stage.massesByItems.values());
    return { from: from - room, count: count + 2 * room };
  });
  const out = new Array<RemainingValues>(segments.length);
  for (let s = segments.length - 1; s >= 0; s--) {
    const at = wide[s]!;
    const after = out[s + 1];
    let success: Map<number, Float64Array>;
    let clock: Map<number, Float64Array>;
    if (after === undefined) {
      const { origin } = stages[s]!;
      const reward = Float64Array.from({ length: at.count }, (_, i) =>
        shareUnder(origin + (at.from + i) * step, target, step, scatters),
      );
      const itemSets = itemSetsAfter(segments[s]!);
      success = new Map(itemSets.map((itemSet) => [itemSet, reward]));
      clock = new Map(itemSets.map((itemSet) => [itemSet, new Float64Array(at.count)]));
    } else {
      const next = segments[s + 1]!;
      success = propagateBackward(after.success, after.at, next, at);
      clock = propagateBackward(after.clock, after.at, next, at);
      for (const [itemSet, values] of clock) {
        const each = next.clock.get(itemSet)!;
        for (let i = 0; i < values.length; i++) values[i]! += each;
      }
      const cutFrom = Math.max(0, line[s]! - at.from + 1);
      if (cutFrom < at.count) {
        for (const values of [...success.values(), ...clock.values()]) values.fill(0, cutFrom);
      }
    }
    out[s] = { at, success, clock };
    yield;
  }
  return out;
}

/** Σ of mass × value over a stage. Beyond the window of the values its end values are used. */
function weighed(
  stage: StageDistribution,
  at: GridWindow,
  values: ReadonlyMap<number, Float64Array>,
): number {
  let sum = 0;
  for (const [itemSet, { from, values: masses }] of stage.massesByItems) {
    const own = values.get(itemSet)!;
    const shift = from - at.from;
    const last = own.length - 1;
    for (let i = 0; i < masses.length; i++) {
      const j = i + shift;
      sum += masses[i]! * own[j < 0 ? 0 : j > last ? last : j]!;
    }
  }
  return sum;
}

/** Plans the segments from `first` to at least `last` again. */
function replan(
  from: TargetBaseline,
  played: ChosenOptions,
  rateOf: LandingRateOf,
  first: number,
  last: number,
): SegmentPlan[] {
  const { planBase, plan, before, remaining } = from;
  let itemSets = [...before[first]!.stage.massesByItems.keys()].sort((a, b) => a - b);
  const segments: SegmentPlan[] = [];
  for (let s = first; s < plan.segments.length; s++) {
    const segment = planSegment(planBase, s, { played, rateOf }, itemSets, new Map());
    segments.push(segment);
    itemSets = itemSetsAfter(segment);
    // The later segments are unchanged, unless a set of items is now possible that was not possible before.
    if (s >= last && itemSets.every((itemSet) => remaining[s]!.success.has(itemSet))) break;
  }
  return segments;
}

/** Clock seconds of planned segments, for each set of held items at their start, in order. */
function costsOf(segments: readonly SegmentPlan[]): number[] {
  return segments.flatMap((segment) => segment.itemSets[0]!.map((itemSet) => segment.clock.get(itemSet)!));
}

/**
 * Plays planned segments. Returns the chance of success, the clock seconds spent outside these segments, and for
 * each cost of {@link costsOf} the chance that a run has that cost. Each of these is a polynomial in the landing
 * rate. The costs themselves are not polynomials if the technique can end the run, so they are kept separate.
 */
function replay(from: TargetBaseline, segments: readonly SegmentPlan[], first: number): number[] {
  const { line, before, remaining } = from;
  let { stage } = before[first]!;
  const comes: number[] = [];
  segments.forEach((segment, i) => {
    for (const itemSet of segment.itemSets[0]!) {
      let mass = 0;
      for (const value of stage.massesByItems.get(itemSet)?.values ?? []) mass += value;
      comes.push(mass);
    }
    stage = truncateAfter(advanceThroughSegment(stage, segment), line[first + i]!);
  });
  const next = remaining[first + segments.length - 1]!;
  const success = weighed(stage, next.at, next.success);
  return [success, before[first]!.clock + weighed(stage, next.at, next.clock), ...comes];
}

/** Interpolates polynomials of degree below `count` from their values at `count` points between 0 and 1. */
function* interpolatePolynomials(
  count: number,
  valuesAt: (rate: number) => number[],
): Steps<(rate: number) => number[]> {
  // Chebyshev points, with the weights of the barycentric formula.
  const angles = Array.from({ length: count }, (_, i) => ((2 * i + 1) * Math.PI) / (2 * count));
  const nodes = angles.map((angle) => (1 - Math.cos(angle)) / 2);
  const weights = angles.map((angle, i) => (i % 2 === 0 ? 1 : -1) * Math.sin(angle));
  const values = yield* mapInSteps(nodes, valuesAt);
  return (rate) => {
    const sums = values[0]!.map(() => 0);
    let below = 0;
    for (let i = 0; i < nodes.length; i++) {
      const apart = rate - nodes[i]!;
      if (Math.abs(apart) < 1e-14) return values[i]!;
      const weight = weights[i]! / apart;
      below += weight;
      for (let k = 0; k < sums.length; k++) sums[k]! += weight * values[i]![k]!;
    }
    return sums.map((sum) => sum / below);
  };
}

/** The worth of a technique for beating the target. */
export interface TargetWorth {
  /** Chance to beat the target in an hour of runs without the technique. */
  readonly without: number;
  /** Rise of that chance over the technique's landing rate in a run; 0 where it is not used. */
  readonly rise: RateTable;
}

/**
 * The rise in the chance to beat the target in an hour of runs, as a function of one technique's landing rate in a
 * run. The technique is used wherever that lowers V at that rate; the reset line and all other choices stay the
 * same. The rise can be below zero, because a lower V does not always make the target more likely. Rates are taken
 * as certain here; the caller takes the expectation over the posterior. Items beyond the number that can be tracked
 * exactly count as never held.
 */
export const targetWorth = inOneGo(targetWorthInSteps);

/** The same in steps, the longest of them a run at one landing rate. */
export function* targetWorthInSteps(current: TargetBaseline, technique: string): Steps<TargetWorth> {
  const { input, layout } = current;
  const others = new Set([...input.tried].filter((t) => t !== technique));
  const from = input.tried.has(technique)
    ? yield* buildTargetBaselineInSteps({ ...input, tried: others, step: current.plan.step }, current.line)
    : current;
  const triedRateOf: LandingRateOf = (t) => (others.has(t) ? clamp(input.rateOf(t), 0, 1) : 0);
  const player = buildTechniquePolicy(
    layout,
    technique,
    from.base,
    (t) => others.has(t),
    triedRateOf,
    input.constants,
  );
  const segments = affectedSegments(layout, player.openChoices);
  const first = segments[0];
  const last = segments.at(-1);
  const floor = input.constants.rateFloor;
  if (first === undefined || last === undefined) return { without: from.now, rise: tabulate(() => 0, floor) };

  const patterns = new Map<string, (rate: number) => number>();
  const chanceOf = function* (played: ChosenOptions): Steps<(rate: number) => number> {
    const planAt = (rate: number): SegmentPlan[] =>
      replan(from, played, (t) => (t === technique ? rate : triedRateOf(t)), first, last);
    const valuesAt = (rate: number): number[] => replay(from, planAt(rate), first);
    const degree = degreeOf(layout, played, technique);
    const values = degree > mostDegree ? valuesAt : yield* interpolatePolynomials(degree + 1, valuesAt);
    return (rate) => {
      const [success = 0, elsewhere = 0, ...comes] = values(rate);
      const clock = costsOf(planAt(rate)).reduce((sum, cost, i) => sum + cost * comes[i]!, elsewhere);
      return chanceInAnHour(success, clock);
    };
  };
  const riseAt = function* (rate: number): Steps<number> {
    yield;
    const played = player.optionsAt(rate);
    if (player.openChoices.every((c) => played[c] === from.base.played[c])) return 0;
    const key = player.openChoices.map((c) => played[c]).join();
    const chance = patterns.get(key) ?? (yield* chanceOf(played));
    patterns.set(key, chance);
    return chance(rate) - from.now;
  };
  return { without: from.now, rise: yield* tabulateInSteps(riseAt, floor) };
}

/** How often the technique can be tried in a run as played: the degree of all chances in its rate. */
function degreeOf(layout: RouteLayout, played: ChosenOptions, technique: string): number {
  let degree = 0;
  for (const c of choicesOfTechnique(layout, technique)) {
    const option = layout.choices[c]!.options[played[c]!];
    if (option?.technique === technique) degree += option.plain.tries;
    if (option?.backup === technique) degree += 1;
  }
  return degree;
}
