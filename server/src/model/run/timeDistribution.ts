/**
 * The distribution of a run's time, segment by segment, by convolution on the time grid.
 *
 * The mass at a stage is the chance to reach it: a death or a miss that ends the run removes mass, and the total at
 * the end is the chance to finish. Means are exact (except for rounding) for every step of the grid.
 */
import { addNoise } from './segmentNoise.ts';
import type { RunPlan, SegmentPlan, PlanStep } from './runPlan.ts';

/** Masses on consecutive grid points; the first is grid point number `from`. */
export interface Masses {
  readonly from: number;
  readonly values: Float64Array;
}

/** The masses for each set of held items (a number with one bit for each item). */
export type MassesByItems = ReadonlyMap<number, Masses>;

/** The distribution of the run time after a segment. */
export interface StageDistribution {
  /** Seconds at grid point 0. */
  readonly origin: number;
  readonly massesByItems: MassesByItems;
}

/** Tails below this share of the whole are moved onto the last point that is kept. */
const negligible = 1e-15;

/** The start of a run: time 0, no items held. */
export const startOfRun: StageDistribution = {
  origin: 0,
  massesByItems: new Map([[0, { from: 0, values: Float64Array.of(1) }]]),
};

/** The total mass over all sets of held items. */
export function totalMass(massesByItems: MassesByItems): number {
  let total = 0;
  for (const { values } of massesByItems.values())
    for (let i = 0; i < values.length; i++) total += values[i]!;
  return total;
}

/** Removes both tails if they have almost no mass; that mass is added to the first and last remaining points. */
function trimmed(masses: Masses, least: number): Masses {
  const { from, values } = masses;
  let low = 0;
  let high = values.length - 1;
  let left = 0;
  let right = 0;
  while (low < high && left + values[low]! <= least) left += values[low++]!;
  while (high > low && right + values[high]! <= least) right += values[high--]!;
  const kept = values.subarray(low, high + 1);
  kept[0]! += left;
  kept[kept.length - 1]! += right;
  return { from: from + low, values: kept };
}

function spread(massesByItems: MassesByItems, segment: SegmentPlan, scale: number): Map<number, Masses> {
  const out = new Map<number, Masses>();
  for (const [itemSet, { from, values }] of massesByItems) {
    const room = new Float64Array(values.length + segment.noise.reach);
    for (let i = 0; i < values.length; i++) room[i] = values[i]! * scale;
    addNoise(segment.noise, room);
    out.set(itemSet, { from, values: room });
  }
  return out;
}

/** The mass of one item set that a list of shifts moves to another item set. */
interface Move {
  readonly source: Masses;
  readonly points: readonly number[];
  readonly chances: readonly number[];
}

const unmoved = { points: [0], chances: [1] };

function applyStep(massesByItems: MassesByItems, step: PlanStep): Map<number, Masses> {
  const moves = new Map<number, Move[]>();
  const send = (to: number, move: Move): void => {
    const list = moves.get(to);
    if (list === undefined) moves.set(to, [move]);
    else list.push(move);
  };
  for (const [itemSet, source] of massesByItems) {
    if ((itemSet & step.needs) !== step.needs) send(itemSet, { source, ...unmoved });
    else
      for (const { gives, points, chances } of step.shifts)
        send(itemSet | gives, { source, points, chances });
  }
  return new Map([...moves].map(([to, list]) => [to, sumMoves(list)]));
}

function sumMoves(moves: readonly Move[]): Masses {
  let from = Infinity;
  let end = -Infinity;
  for (const { source, points } of moves) {
    from = Math.min(from, source.from + points[0]!);
    end = Math.max(end, source.from + source.values.length + points.at(-1)!);
  }
  const values = new Float64Array(end - from);
  for (const { source, points, chances } of moves) {
    for (let p = 0; p < points.length; p++) {
      const at = source.from + points[p]! - from;
      // Most outcomes lie between two grid points and are divided between both, so the pair is added in one pass.
      if (points[p + 1] === points[p]! + 1) {
        addPair(values, at, source.values, chances[p]!, chances[p + 1]!);
        p++;
      } else addMoved(values, at, source.values, chances[p]!);
    }
  }
  return { from, values };
}

function addMoved(to: Float64Array, at: number, masses: Float64Array, chance: number): void {
  for (let i = 0; i < masses.length; i++) to[at + i]! += chance * masses[i]!;
}

function addPair(to: Float64Array, at: number, masses: Float64Array, here: number, next: number): void {
  let before = 0;
  for (let i = 0; i < masses.length; i++) {
    const mass = masses[i]!;
    to[at + i]! += here * mass + next * before;
    before = mass;
  }
  to[at + masses.length]! += next * before;
}

/** Removes items that are not needed any more, and adds up the masses of item sets that become equal. */
function mergeKeptItems(massesByItems: MassesByItems, keeps: number): Map<number, Masses> {
  const groups = new Map<number, Move[]>();
  for (const [itemSet, source] of massesByItems) {
    const list = groups.get(itemSet & keeps) ?? [];
    groups.set(itemSet & keeps, [...list, { source, ...unmoved }]);
  }
  return new Map([...groups].map(([to, list]) => [to, list.length > 1 ? sumMoves(list) : list[0]!.source]));
}

/** The distribution after one more segment. */
export function advanceThroughSegment(stage: StageDistribution, segment: SegmentPlan): StageDistribution {
  let massesByItems: MassesByItems = spread(stage.massesByItems, segment, segment.survive);
  for (const step of segment.steps) massesByItems = applyStep(massesByItems, step);
  const joined = mergeKeptItems(massesByItems, segment.keptItems);
  const least = negligible * totalMass(joined);
  const kept = new Map([...joined].map(([itemSet, masses]) => [itemSet, trimmed(masses, least)]));
  return { origin: stage.origin + segment.noise.origin, massesByItems: kept };
}

/** Removes the mass later than grid point `last`: those runs are reset. */
export function truncateAfter(stage: StageDistribution, last: number): StageDistribution {
  if (last === Infinity) return stage;
  const massesByItems = new Map<number, Masses>();
  for (const [itemSet, { from, values }] of stage.massesByItems) {
    const count = Math.max(0, Math.min(values.length, last - from + 1));
    if (count > 0) massesByItems.set(itemSet, { from, values: values.subarray(0, count) });
  }
  return { origin: stage.origin, massesByItems };
}

/** A distribution of times; the masses sum to the chance to reach the stage. */
export interface TimeDistribution {
  /** Seconds at the first value. */
  readonly start: number;
  /** Seconds between values. */
  readonly step: number;
  readonly masses: Float64Array;
  /**
   * Whether times scatter. If so, each mass is spread over its whole grid step; otherwise it is at exactly one
   * time.
   */
  readonly scatters: boolean;
}

/** The distribution of times at a stage, summed over all sets of held items. */
export function toTimeDistribution(
  stage: StageDistribution,
  plan: Pick<RunPlan, 'step' | 'scatters'>,
): TimeDistribution {
  const { step, scatters } = plan;
  const moves = [...stage.massesByItems.values()].map((source) => ({ source, ...unmoved }));
  if (moves.length === 0) return { start: stage.origin, step, scatters, masses: new Float64Array(1) };
  const { from, values } = moves.length === 1 ? moves[0]!.source : sumMoves(moves);
  return { start: stage.origin + from * step, step, scatters, masses: values };
}

/** The distribution of the final time of runs that are never reset. */
export function finalTimeDistribution(plan: RunPlan): TimeDistribution {
  let stage = startOfRun;
  for (const segment of plan.segments) stage = advanceThroughSegment(stage, segment);
  return toTimeDistribution(stage, plan);
}
