/**
 * Backward induction through one segment: the expected value before it, computed from the values after it.
 *
 * It applies the same filters and shifts as playing the segment forwards, in the opposite direction.
 */
import type { Masses } from './timeDistribution.ts';
import { expectOverNoise } from './segmentNoise.ts';
import type { SegmentPlan, PlanStep } from './runPlan.ts';

/** A range of `count` grid points, starting at `from`. */
export interface GridWindow {
  readonly from: number;
  readonly count: number;
}

/** The smallest window that contains all of several masses. */
export function coveringWindow(all: Iterable<Masses>): GridWindow {
  let from = Infinity;
  let end = -Infinity;
  for (const masses of all) {
    from = Math.min(from, masses.from);
    end = Math.max(end, masses.from + masses.values.length);
  }
  return end > from ? { from, count: end - from } : { from: 0, count: 1 };
}

/** Copies values from one window to another. Beyond the ends of the first window its end values are used. */
function onWindow(values: Float64Array, at: GridWindow, wanted: GridWindow): Float64Array {
  const out = new Float64Array(wanted.count);
  const shift = wanted.from - at.from;
  const last = values.length - 1;
  for (let i = 0; i < out.length; i++) {
    const j = i + shift;
    out[i] = values[j < 0 ? 0 : j > last ? last : j]!;
  }
  return out;
}

/**
 * Adds the values that are `points` and `points + 1` grid points further on, each times its chance; beyond the ends
 * the end values are used. Most outcomes lie between two grid points and are divided between both, so the pair is
 * added in one pass.
 */
function addShifted(
  out: Float64Array,
  values: Float64Array,
  points: number,
  here: number,
  next: number,
): void {
  const count = values.length;
  const first = Math.min(count, Math.max(0, -points));
  const end = Math.max(first, Math.min(count, count - points - 1));
  const last = count - 1;
  const clamped = (i: number): number => values[i < 0 ? 0 : i > last ? last : i]!;
  const edge = (i: number): void => {
    out[i]! += here * clamped(i + points) + next * clamped(i + points + 1);
  };
  for (let i = 0; i < first; i++) edge(i);
  for (let i = first; i < end; i++) out[i]! += here * values[i + points]! + next * values[i + points + 1]!;
  for (let i = end; i < count; i++) edge(i);
}

type Values = ReadonlyMap<number, Float64Array>;

function stepBack(after: Values, step: PlanStep, itemSets: readonly number[]): Map<number, Float64Array> {
  const before = new Map<number, Float64Array>();
  for (const itemSet of itemSets) {
    if ((itemSet & step.needs) !== step.needs) {
      before.set(itemSet, after.get(itemSet)!);
      continue;
    }
    const sum = new Float64Array(after.get(itemSet | (step.shifts[0]?.gives ?? 0))?.length ?? 0);
    for (const { gives, points, chances } of step.shifts) {
      const values = after.get(itemSet | gives)!;
      for (let p = 0; p < points.length; p++) {
        const pair = points[p + 1] === points[p]! + 1;
        addShifted(sum, values, points[p]!, chances[p]!, pair ? chances[p + 1]! : 0);
        if (pair) p++;
      }
    }
    before.set(itemSet, sum);
  }
  return before;
}

/** How many grid points to the left the steps of a segment can lead. */
export function leftReach(segment: SegmentPlan): number {
  let reach = 0;
  for (const { shifts } of segment.steps) {
    reach += shifts.reduce((most, { points }) => Math.max(most, -(points[0] ?? 0)), 0);
  }
  return reach;
}

/**
 * Values before a segment (on the window `before`) from those after it (on `after`), for every set of held items. A
 * run that ends in the segment has value 0. Returns new arrays.
 */
export function propagateBackward(
  values: Values,
  after: GridWindow,
  segment: SegmentPlan,
  before: GridWindow,
): Map<number, Float64Array> {
  const left = leftReach(segment);
  const from = Math.min(before.from, after.from) - left;
  const end = Math.max(before.from + before.count, after.from + after.count) + left;
  const room = { from, count: end - from };
  const { itemSets, steps, keptItems: keeps, noise, survive } = segment;
  const wide = new Map([...values].map(([itemSet, at]) => [itemSet, onWindow(at, after, room)]));
  let now = new Map(itemSets.at(-1)!.map((itemSet) => [itemSet, wide.get(itemSet & keeps)!]));
  for (let k = steps.length - 1; k >= 0; k--) now = stepBack(now, steps[k]!, itemSets[k]!);
  const out = new Map<number, Float64Array>();
  for (const [itemSet, at] of now) {
    const own = at.slice();
    expectOverNoise(noise, own);
    const narrow = onWindow(own, room, before);
    for (let i = 0; i < narrow.length; i++) narrow[i]! *= survive;
    out.set(itemSet, narrow);
  }
  return out;
}
