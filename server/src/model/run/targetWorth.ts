/**
 * What a landing rate is worth to beating the target: the chance to beat it in an hour of runs, the reset line held
 * fixed.
 *
 * Only the segments that a technique touches change with its rate. The run up to the first of them and all that
 * follows the last are worked out once a route; between, success and clock are polynomials in the rate, so a few
 * evaluations give the whole table.
 */
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
import { playUnderLine, resetLine } from './resetLine.ts';
import type { LineThresholds } from './resetLine.ts';
import type { ChosenOptions, LandingRateOf } from './runState.ts';
import { itemSetsAfter, planRun, planSegment } from './runPlan.ts';
import type { PlanBase, RunPlan, SegmentPlan } from './runPlan.ts';
import { tabulate } from '../core/rateTable.ts';
import type { RateTable } from '../core/rateTable.ts';

/** What is still to come after a segment, for each hand, on a window; nothing where the line says to reset. */
interface RemainingValues {
  readonly at: GridWindow;
  readonly success: ReadonlyMap<number, Float64Array>;
  readonly clock: ReadonlyMap<number, Float64Array>;
}

/** A route as it is run now, ready for changed landing rates. */
export interface TargetBaseline {
  readonly input: OddsInput & { readonly target: number };
  readonly layout: RouteLayout;
  readonly base: Baseline;
  readonly planBase: PlanBase;
  readonly plan: RunPlan;
  readonly line: LineThresholds;
  /** Chance to beat the target in an hour of runs. */
  readonly now: number;
  /** Before each segment: where a run can be, and the clock seconds spent on the way by a run started. */
  readonly before: readonly { readonly stage: StageDistribution; readonly clock: number }[];
  /** After each segment. */
  readonly remaining: readonly RemainingValues[];
}

/** Polynomials of higher degree than this are not worth interpolating. */
const mostDegree = 16;

/**
 * Chance that at least one of an hour's runs beats the target, of runs that succeed with chance `success` and take
 * `clock` seconds each, restart included: as many runs as the hour holds on average, a part of one counting as part.
 *
 * @example
 * chanceInAnHour(0.1, 1800) // 0.19
 */
export function chanceInAnHour(success: number, clock: number): number {
  if (!(clock > 0)) return success > 0 ? 1 : 0;
  return -Math.expm1((3600 / clock) * Math.log1p(-clamp(success, 0, 1)));
}

/** How far techniques can move a run, grid points: room that the values to come must have on both sides. */
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

/** Lays out the run as it is now: what is in it, its line (unless one is given), and all prefixes and suffixes. */
export function buildTargetBaseline(
  input: OddsInput & { readonly target: number },
  line?: LineThresholds,
): TargetBaseline {
  const { route, tried, rateOf, constants, target } = input;
  const layout = layOutRoute(route);
  const known: LandingRateOf = (technique) => (tried.has(technique) ? clamp(rateOf(technique), 0, 1) : 0);
  const base = chooseBaseline(layout, (technique) => tried.has(technique), known, constants);
  const { plan, base: planBase } = planRun(route, layout, { played: base.played, rateOf: known }, input.step);
  const held = line ?? resetLine(plan, target).line;
  const played = playUnderLine(plan, held, target);
  const before: { stage: StageDistribution; clock: number }[] = [{ stage: startOfRun, clock: plan.restart }];
  plan.segments.forEach((segment, s) => {
    const { stage, clock } = before[s]!;
    const spent = clockIn(stage, segment.clock);
    before.push({ stage: truncateAfter(played.stages[s]!, held[s]!), clock: clock + spent });
  });
  const toGo = computeRemainingValues(plan, held, played.stages, target, roomFor(layout, planBase));
  const now = chanceInAnHour(played.success, played.clock);
  return { input, layout, base, planBase, plan, line: held, now, before, remaining: toGo };
}

/** Clock seconds that a segment takes, of a run started. */
function clockIn(stage: StageDistribution, clock: ReadonlyMap<number, number>): number {
  let spent = 0;
  for (const [itemSet, { values }] of stage.massesByItems) {
    const each = clock.get(itemSet) ?? 0;
    for (let i = 0; i < values.length; i++) spent += values[i]! * each;
  }
  return spent;
}

function computeRemainingValues(
  plan: RunPlan,
  line: LineThresholds,
  stages: readonly StageDistribution[],
  target: number,
  room: number,
): RemainingValues[] {
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
  }
  return out;
}

/** Σ over a stage of its mass times a value on a window, the ends of the values holding on. */
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

/** Segments `first` to `last` and on, planned anew. */
function replan(
  from: TargetBaseline,
  played: ChosenOptions,
  rateOf: LandingRateOf,
  first: number,
  last: number,
): SegmentPlan[] {
  const { planBase, plan, before, remaining: toGo } = from;
  let itemSets = [...before[first]!.stage.massesByItems.keys()].sort((a, b) => a - b);
  const segments: SegmentPlan[] = [];
  for (let s = first; s < plan.segments.length; s++) {
    const segment = planSegment(planBase, s, { played, rateOf }, itemSets, new Map());
    segments.push(segment);
    itemSets = itemSetsAfter(segment);
    // From here on all is as it was, unless something is in hand that never was.
    if (s >= last && itemSets.every((itemSet) => toGo[s]!.success.has(itemSet))) break;
  }
  return segments;
}

/** Clock seconds of planned segments, for each hand at their start, in order. */
function costsOf(segments: readonly SegmentPlan[]): number[] {
  return segments.flatMap((segment) => segment.itemSets[0]!.map((itemSet) => segment.clock.get(itemSet)!));
}

/**
 * Plays planned segments: the chance of success, the clock seconds spent elsewhere, and for each cost of
 * {@link costsOf} the chance to come to it. Each of these is a polynomial in the landing rate; the costs are not
 * where the technique can end the run, which is why they are kept apart.
 */
function replay(from: TargetBaseline, segments: readonly SegmentPlan[], first: number): number[] {
  const { line, before, remaining: toGo } = from;
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
  const next = toGo[first + segments.length - 1]!;
  const success = weighed(stage, next.at, next.success);
  return [success, before[first]!.clock + weighed(stage, next.at, next.clock), ...comes];
}

/** Polynomials of a degree below `count`, from their values at that many points between 0 and 1. */
function interpolatePolynomials(
  count: number,
  valuesAt: (rate: number) => number[],
): (rate: number) => number[] {
  // Chebyshev's points, with the weights of the barycentric form.
  const angles = Array.from({ length: count }, (_, i) => ((2 * i + 1) * Math.PI) / (2 * count));
  const nodes = angles.map((angle) => (1 - Math.cos(angle)) / 2);
  const weights = angles.map((angle, i) => (i % 2 === 0 ? 1 : -1) * Math.sin(angle));
  const values = nodes.map(valuesAt);
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

/** What a technique can do for the target. */
export interface TargetWorth {
  /** Chance to beat the target in an hour of runs without the technique. */
  readonly without: number;
  /** Rise of that chance over the technique's landing rate in a run; 0 where it is not used. */
  readonly rise: RateTable;
}

/**
 * The rise in the chance to beat the target in an hour of runs, over the landing rate in a run of one technique. It
 * is used wherever that lowers V at that rate; the line and all other choices stay. The rise can be below zero: what
 * lowers V need not bring the target nearer. Rates count as known here; an expectation over the posterior is the
 * caller's. Items beyond those that can be followed count as never in hand.
 */
export function targetWorth(current: TargetBaseline, technique: string): TargetWorth {
  const { input, layout } = current;
  const others = new Set([...input.tried].filter((t) => t !== technique));
  const from = input.tried.has(technique)
    ? buildTargetBaseline({ ...input, tried: others, step: current.plan.step }, current.line)
    : current;
  const known: LandingRateOf = (t) => (others.has(t) ? clamp(input.rateOf(t), 0, 1) : 0);
  const player = buildTechniquePolicy(
    layout,
    technique,
    from.base,
    (t) => others.has(t),
    known,
    input.constants,
  );
  const segments = affectedSegments(layout, player.openChoices);
  const first = segments[0];
  const last = segments.at(-1);
  const floor = input.constants.rateFloor;
  if (first === undefined || last === undefined) return { without: from.now, rise: tabulate(() => 0, floor) };

  const patterns = new Map<string, (rate: number) => number>();
  const chanceOf = (played: ChosenOptions): ((rate: number) => number) => {
    const planAt = (rate: number): SegmentPlan[] =>
      replan(from, played, (t) => (t === technique ? rate : known(t)), first, last);
    const valuesAt = (rate: number): number[] => replay(from, planAt(rate), first);
    const degree = degreeOf(layout, played, technique);
    const values = degree > mostDegree ? valuesAt : interpolatePolynomials(degree + 1, valuesAt);
    return (rate) => {
      const [success = 0, elsewhere = 0, ...comes] = values(rate);
      const clock = costsOf(planAt(rate)).reduce((sum, cost, i) => sum + cost * comes[i]!, elsewhere);
      return chanceInAnHour(success, clock);
    };
  };
  const riseAt = (rate: number): number => {
    const played = player.optionsAt(rate);
    if (player.openChoices.every((c) => played[c] === from.base.played[c])) return 0;
    const key = player.openChoices.map((c) => played[c]).join();
    const chance = patterns.get(key) ?? chanceOf(played);
    patterns.set(key, chance);
    return chance(rate) - from.now;
  };
  return { without: from.now, rise: tabulate(riseAt, floor) };
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
