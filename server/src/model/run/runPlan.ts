/**
 * A run plan: the options played, at their landing rates, as steps on the time grid for convolution.
 *
 * Items make the times of segments depend on one another, so the probability mass is kept separately for each set of
 * held items (`itemSet`, see `trackedItems.ts`).
 */
import type { RouteLayout } from './routeLayout.ts';
import { clamp, finiteOr } from '../core/numbers.ts';
import { maxSeconds, gammaNoise } from './segmentNoise.ts';
import type { SegmentNoise } from './segmentNoise.ts';
import { outcomesOf } from './outcomes.ts';
import type { DeviationOf, Outcome } from './outcomes.ts';
import { optionEffect } from './runState.ts';
import type { ChosenOptions } from './playSegments.ts';
import type { LandingRateOf } from './runState.ts';
import { RoughItems } from './trackedItems.ts';
import type { RouteModel } from '../core/types.ts';

/** Shifts by whole numbers of grid points with their chances, and the items (bits) that these outcomes give. */
export interface TimeShifts {
  readonly gives: number;
  readonly points: readonly number[];
  readonly chances: readonly number[];
}

/**
 * A step of a segment: a technique that is tried, or luck. Mass without the items of `needs` (bits) is not changed
 * by it.
 */
export interface PlanStep {
  readonly needs: number;
  readonly shifts: readonly TimeShifts[];
}

export interface SegmentPlan {
  readonly id: string;
  readonly noise: SegmentNoise;
  readonly steps: readonly PlanStep[];
  /** Chance that the run survives the segment when no technique is tried. */
  readonly survive: number;
  /** Bits of the items that are needed in a later segment. */
  readonly keptItems: number;
  /** The possible sets of held items before each step and after the last one, in rising order. */
  readonly itemSets: readonly (readonly number[])[];
  /**
   * For each possible item set at its start: mean clock seconds (a run that ends in the segment takes half of its
   * time), and the chance to survive the segment.
   */
  readonly clock: ReadonlyMap<number, number>;
  readonly through: ReadonlyMap<number, number>;
}

export interface RunPlan {
  /** Seconds between grid points. */
  readonly step: number;
  readonly segments: readonly SegmentPlan[];
  readonly restart: number;
  /** Whether times have any scatter. Without scatter, each grid point stands for exactly its own time. */
  readonly scatters: boolean;
  /** Items that are not tracked exactly; they count as held with an independent chance. */
  readonly roughItems: readonly string[];
}

/** The options played, and their landing rates. */
export interface PlayPolicy {
  readonly played: ChosenOptions;
  readonly rateOf: LandingRateOf;
  /** What each use really saves, if that is known; else its doubt is drawn anew in each run. */
  readonly deviationOf?: DeviationOf;
}

/** Largest number of grid points of a run; if more are needed, the step is enlarged. */
const mostPoints = 1 << 17;

/** Smallest survival of a segment; with survival 0 no run would reach the end. */
const leastSurvival = 1e-9;

/**
 * For each choice that needs an item which is not tracked exactly, the chance that the item is held, as if it were
 * independent of everything else.
 */
function roughChances(layout: RouteLayout, play: PlayPolicy): Map<number, number> {
  const chances = new Map<number, number>();
  const { rough } = layout.items;
  if (rough.length === 0) return chances;
  const items = new RoughItems(layout.items);
  layout.choices.forEach((choice, c) => {
    const option = choice.options[play.played[c]!];
    if (option === undefined) return;
    const open = items.chanceOpen(option.use.with);
    if (option.use.with !== undefined && rough.includes(option.use.with)) chances.set(c, open);
    items.survive(option.use, open, optionEffect(option, play.rateOf));
  });
  return chances;
}

/** Puts outcomes on the grid. Mass between two points is divided between them so that the mean stays the same. */
function onGrid(outcomes: readonly Outcome[], step: number, gives: number): TimeShifts[] {
  const kinds = new Map<number, Map<number, number>>();
  const add = (to: number, point: number, chance: number): void => {
    if (!(chance > 0)) return;
    const masses = kinds.get(to) ?? new Map<number, number>();
    kinds.set(to, masses);
    masses.set(point, (masses.get(point) ?? 0) + chance);
  };
  for (const { seconds, chance, lands } of outcomes) {
    const to = lands ? gives : 0;
    const at = clamp(finiteOr(seconds, 0), -maxSeconds, maxSeconds) / step;
    const nearest = Math.round(at);
    if (Math.abs(at - nearest) < 1e-7) {
      add(to, nearest, chance);
      continue;
    }
    const below = Math.floor(at);
    add(to, below, chance * (below + 1 - at));
    add(to, below + 1, chance * (at - below));
  }
  return [...kinds].map(([to, masses]) => {
    const sorted = [...masses].sort((a, b) => a[0] - b[0]);
    return { gives: to, points: sorted.map(([point]) => point), chances: sorted.map(([, chance]) => chance) };
  });
}

/** The parts of a plan that do not depend on the options played or on landing rates. */
export interface PlanBase {
  readonly route: RouteModel;
  readonly layout: RouteLayout;
  readonly step: number;
}

/** Plans one segment. `itemSets` are the sets of items that can be held at its start. */
export function planSegment(
  base: PlanBase,
  s: number,
  play: PlayPolicy,
  itemSets: readonly number[],
  roughChance: ReadonlyMap<number, number>,
): SegmentPlan {
  const { layout, step } = base;
  const { bits, kept } = layout.items;
  const segment = base.route.segments[s]!;
  const noise = gammaNoise(segment.time, segment.spread, step);
  const steps: PlanStep[] = [];
  for (const { chance, adds } of segment.luck) {
    const hit = clamp(finiteOr(chance, 0), 0, 1);
    const outcomes = [
      { seconds: 0, chance: 1 - hit, lands: false },
      { seconds: finiteOr(adds, 0), chance: hit, lands: false },
    ];
    steps.push({ needs: 0, shifts: onGrid(outcomes, step, 0) });
  }
  for (const c of layout.choicesInSegment[s] ?? []) {
    const option = layout.choices[c]?.options[play.played[c]!];
    if (option === undefined) continue;
    const { use } = option;
    let outcomes: readonly Outcome[] = outcomesOf(option, play.rateOf, play.deviationOf);
    let needs = 0;
    if (use.with !== undefined) {
      const open = roughChance.get(c);
      if (open !== undefined) {
        const tried = outcomes.map((o) => ({ ...o, chance: o.chance * open }));
        outcomes = [...tried, { seconds: 0, chance: 1 - open, lands: false }];
      } else {
        const bit = bits.get(use.with);
        // No technique picks the item up before this segment, so the use is never tried.
        if (bit === undefined) continue;
        needs = bit;
      }
    }
    const gives = use.take === undefined ? 0 : (bits.get(use.take) ?? 0);
    steps.push({ needs, shifts: onGrid(outcomes, step, gives) });
  }
  const survive = clamp(finiteOr(segment.survive, 1), leastSurvival, 1);
  return {
    id: segment.id,
    noise,
    steps,
    survive,
    keptItems: kept[s]!,
    ...trackItemSets(noise, steps, survive, itemSets, step),
  };
}

/**
 * The sets of items that are possible at each step; and for each set at the start of the segment, the clock time
 * and the chance to survive.
 */
function trackItemSets(
  noise: SegmentNoise,
  steps: readonly PlanStep[],
  survive: number,
  start: readonly number[],
  step: number,
): Pick<SegmentPlan, 'itemSets' | 'clock' | 'through'> {
  const itemSets: (readonly number[])[] = [start];
  for (const { needs, shifts } of steps) {
    const next = new Set<number>();
    for (const itemSet of itemSets.at(-1)!) {
      if ((itemSet & needs) !== needs) next.add(itemSet);
      else for (const { gives } of shifts) next.add(itemSet | gives);
    }
    itemSets.push([...next].sort((a, b) => a - b));
  }
  const clock = new Map<number, number>();
  const through = new Map<number, number>();
  for (const itemSet of start) {
    let now = new Map([[itemSet, { mass: survive, seconds: survive * noise.mean }]]);
    for (const { needs, shifts } of steps) {
      const next: typeof now = new Map();
      const add = (to: number, mass: number, seconds: number): void => {
        const before = next.get(to) ?? { mass: 0, seconds: 0 };
        next.set(to, { mass: before.mass + mass, seconds: before.seconds + seconds });
      };
      for (const [at, { mass, seconds }] of now) {
        if ((at & needs) !== needs) add(at, mass, seconds);
        else
          for (const { gives, points, chances } of shifts)
            chances.forEach((chance, i) => {
              add(at | gives, mass * chance, chance * (seconds + mass * points[i]! * step));
            });
      }
      now = next;
    }
    let lives = 0;
    let seconds = 0;
    for (const end of now.values()) {
      lives += end.mass;
      seconds += end.seconds;
    }
    through.set(itemSet, lives);
    clock.set(itemSet, lives > 0 ? ((seconds / lives) * (1 + lives)) / 2 : noise.mean / 2);
  }
  return { itemSets, clock, through };
}

/** The sets of items that can be held after a segment. */
export function itemSetsAfter(segment: SegmentPlan): number[] {
  return [...new Set(segment.itemSets.at(-1)!.map((itemSet) => itemSet & segment.keptItems))].sort(
    (a, b) => a - b,
  );
}

function planAll(base: PlanBase, play: PlayPolicy): SegmentPlan[] {
  const rough = roughChances(base.layout, play);
  const segments: SegmentPlan[] = [];
  let itemSets: number[] = [0];
  base.route.segments.forEach((_, s) => {
    const segment = planSegment(base, s, play, itemSets, rough);
    segments.push(segment);
    itemSets = itemSetsAfter(segment);
  });
  return segments;
}

/** Number of grid points that the times of the run can cover. */
function pointsOf(segments: readonly SegmentPlan[]): number {
  let points = 1;
  for (const { noise, steps } of segments) {
    points += noise.reach;
    for (const { shifts } of steps) {
      const all = shifts.flatMap((s) => [s.points[0] ?? 0, s.points.at(-1) ?? 0]);
      points += all.reduce((a, b) => Math.max(a, b), 0) - all.reduce((a, b) => Math.min(a, b), 0);
    }
  }
  return points;
}

/** A plan, and the base from which one of its segments can be planned again at other landing rates. */
export interface PlannedRun {
  readonly base: PlanBase;
  readonly plan: RunPlan;
}

/**
 * Plans a run on a grid of `step` seconds (0.1 if `step` is not a usable number). If the grid would need too many
 * points, the step is enlarged; `plan.step` is the step that was used.
 */
export function planRun(route: RouteModel, layout: RouteLayout, play: PlayPolicy, step = 0.1): PlannedRun {
  let base: PlanBase = { route, layout, step: step > 0 && step < 1e6 ? step : 0.1 };
  let segments = planAll(base, play);
  for (let tries = 0; tries < 40; tries++) {
    const points = pointsOf(segments);
    if (points <= mostPoints) break;
    base = { ...base, step: base.step * Math.max(2, points / mostPoints) };
    segments = planAll(base, play);
  }
  const { restart, items } = layout;
  const scatters = segments.some(({ noise }) => noise.stages > 0);
  return { base, plan: { step: base.step, segments, restart, scatters, roughItems: items.rough } };
}
