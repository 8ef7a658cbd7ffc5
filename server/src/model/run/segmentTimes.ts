/**
 * Estimates the usual time and the spread of each segment from the runner's own runs.
 *
 * The effects of techniques are removed first: seconds saved by landings are added, seconds lost by misses and
 * retries are subtracted. The numbers then have the same meaning as in a route: the segment with no technique
 * tried. The fit is a minimum-distance estimate: the time and spread for which the model's distribution of the
 * segment's time (luck included) is closest to the observed shares of runs (Cramér–von Mises distance; Parr &
 * Schucany 1980, JASA 75). A run with an exceptionally long time (a fall that was not logged, a telephone call)
 * counts only as one slow run, independent of how slow it was; a mean and a standard deviation would change with
 * each of them. If the runner resets during a segment, it is known only that the segment would have taken longer
 * (Kaplan & Meier 1958, JASA 53).
 */
import { inOneGo, runToCompletion } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { layOutRoute } from './routeLayout.ts';
import { finalTimeDistribution } from './timeDistribution.ts';
import { weightedQuantile } from '../core/numbers.ts';
import { planRun } from './runPlan.ts';
import type { RouteModel, SegmentModel, UseModel } from '../core/types.ts';

/** One logged run. */
export interface LoggedRun {
  /** Segments played to their end. */
  readonly times: readonly { readonly segment: string; readonly seconds: number }[];
  /** Tries in this run. `use` is the id of a use, or of a technique that has only one use. */
  readonly tried: readonly { readonly use: string; readonly landed: number; readonly tries: number }[];
  /**
   * The segment in which the runner reset by choice, and the seconds since the start of that segment if they are
   * known.
   */
  readonly givenUp?: { readonly segment: string; readonly seconds?: number };
}

/** The time and spread of a segment, and the number of runs they are based on. */
export interface SegmentTime {
  readonly segment: string;
  /** Seconds. */
  readonly time: number;
  readonly spread: number;
  readonly timeFrom: 'runs' | 'route';
  readonly spreadFrom: 'runs' | 'route';
  /** Number of runs with a usable time. */
  readonly runs: number;
  /** Number of further runs that were reset in the segment, so that only a lower limit of its time is known. */
  readonly longerThan: number;
  /**
   * Number of runs whose time could not be used, because it is not known how many seconds techniques added or
   * saved.
   */
  readonly leftOut: number;
}

/**
 * Fewest usable runs for estimating a time, and for estimating a spread; with fewer, the route's number is used.
 * Chosen for this model.
 */
export const leastRuns = { time: 8, spread: 20 } as const;

interface Observation {
  readonly seconds: number;
  readonly complete: boolean;
}

type Tries = ReadonlyMap<string, { readonly landed: number; readonly tries: number }>;

/** The tries of one run. */
interface RunTries {
  readonly tries: Tries;
  /** Uses of which the log does not show which was tried. */
  readonly unclear: ReadonlySet<string>;
}

/** Gives a run's tries by the id of the use. Tries given under the id of a technique with several uses are unclear. */
function triesReader(route: RouteModel): (run: LoggedRun) => RunTries {
  const uses = route.segments.flatMap((segment) => segment.uses);
  const byId = groupBy(uses, 'id');
  const byTechnique = groupBy(uses, 'technique');
  return (run) => triesByUse(run, (id) => byId.get(id) ?? byTechnique.get(id) ?? []);
}

function groupBy(
  uses: readonly UseModel[],
  key: 'id' | 'technique',
): ReadonlyMap<string, readonly UseModel[]> {
  const groups = new Map<string, UseModel[]>();
  for (const use of uses) {
    const group = groups.get(use[key]);
    if (group === undefined) groups.set(use[key], [use]);
    else group.push(use);
  }
  return groups;
}

function triesByUse(run: LoggedRun, usesOf: (id: string) => readonly UseModel[]): RunTries {
  const tries = new Map<string, { landed: number; tries: number }>();
  const unclear = new Set<string>();
  for (const { use: id, landed, tries: count } of run.tried) {
    const named = usesOf(id);
    const [only] = named;
    if (named.length === 1 && only !== undefined) tries.set(only.id, { landed, tries: count });
    else for (const use of named) unclear.add(use.id);
  }
  return { tries, unclear };
}

/** Seconds that the tries of a use added to a run that continued; undefined if the log does not show it. */
function secondsAdded(
  use: UseModel,
  tried: { landed: number; tries: number } | undefined,
): number | undefined {
  if (tried === undefined || tried.tries <= 0) return 0;
  const { landed, tries } = tried;
  if (landed > 1 || landed < 0 || tries > Math.max(1, use.maxTries)) return undefined;
  const extra = (tries - 1) * use.retrySeconds + (use.take === undefined ? 0 : use.costs);
  if (landed === 1) return extra - use.saves.mean;
  // The log does not show whether the backup landed here.
  if (use.backup !== undefined) return undefined;
  const going = use.misses.filter((miss) => !miss.endsRun);
  const total = going.reduce((sum, { chance }) => sum + chance, 0);
  return total > 0 ? extra + going.reduce((sum, m) => sum + (m.chance / total) * m.loses, 0) : undefined;
}

/** Seconds that all techniques together added to a segment in a run; undefined if it is not known. */
function techniquesAdded(segment: SegmentModel, run: LoggedRun, read: RunTries) {
  if (segment.uses.length > 0 && run.tried.length === 0) return undefined;
  let sum = 0;
  for (const use of segment.uses) {
    const added = read.unclear.has(use.id) ? undefined : secondsAdded(use, read.tries.get(use.id));
    if (added === undefined) return undefined;
    sum += added;
  }
  return sum;
}

/**
 * The steps of the Kaplan–Meier curve: the share of each observed time, where incomplete times count as some later
 * time. The share that remains at the end is assigned to the last time (Efron).
 */
export function kaplanMeierSteps(observations: readonly Observation[]): {
  points: Float64Array;
  masses: Float64Array;
} {
  // Of equal times the complete one comes first, because the incomplete one would have lasted at least as long.
  const sorted = [...observations].sort(
    (a, b) => a.seconds - b.seconds || Number(b.complete) - Number(a.complete),
  );
  const points: number[] = [];
  const masses: number[] = [];
  let left = 1;
  sorted.forEach(({ seconds, complete }, i) => {
    const share = left / (sorted.length - i);
    if (!complete && i < sorted.length - 1) return;
    points.push(seconds);
    masses.push(share);
    left -= share;
  });
  return { points: Float64Array.from(points), masses: Float64Array.from(masses) };
}

/**
 * The model's distribution of a segment's time, luck included, relative to its usual time: the share below each
 * point of a fine grid.
 */
interface TimeCdf {
  readonly start: number;
  readonly step: number;
  readonly under: Float64Array;
}

function modelCdf(segment: SegmentModel, time: number, spread: number, step: number): TimeCdf {
  const bare = { ...segment, time, spread, survive: 1, uses: [] };
  const route = { segments: [bare], techniques: [], restart: 0 };
  const layout = layOutRoute(route);
  const times = finalTimeDistribution(
    planRun(route, layout, { played: new Int32Array(0), rateOf: () => 0 }, step).plan,
  );
  const under = new Float64Array(times.masses.length + 1);
  times.masses.forEach((mass, i) => {
    under[i + 1] = under[i]! + mass;
  });
  return { start: times.start - times.step / 2, step: times.step, under };
}

function shareUnder({ start, step, under }: TimeCdf, seconds: number): number {
  const at = (seconds - start) / step;
  const last = under.length - 1;
  if (!(at > 0)) return 0;
  if (at >= last) return 1;
  const base = Math.floor(at);
  return under[base]! + (at - base) * (under[base + 1]! - under[base]!);
}

/**
 * Finds the minimum of a function of one number: the best of several evenly spaced points, then a golden-section
 * search around it.
 */
function* minimizeScalarInSteps(
  low: number,
  high: number,
  points: number,
  rounds: number,
  of: (x: number) => number,
): Steps<number> {
  const step = (high - low) / (points - 1);
  let best = 0;
  let least = Infinity;
  for (let i = 0; i < points; i++) {
    const value = of(low + i * step);
    yield;
    if (value < least) [best, least] = [i, value];
  }
  const golden = (Math.sqrt(5) - 1) / 2;
  let a = low + Math.max(0, best - 1) * step;
  let b = low + Math.min(points - 1, best + 1) * step;
  let [c, d] = [b - golden * (b - a), a + golden * (b - a)];
  let [atC, atD] = [of(c), of(d)];
  for (let round = 0; round < rounds; round++) {
    if (atC < atD) {
      [b, d, atD] = [d, c, atC];
      c = b - golden * (b - a);
      atC = of(c);
    } else {
      [a, c, atC] = [c, d, atD];
      d = a + golden * (b - a);
      atD = of(d);
    }
    yield;
  }
  return (a + b) / 2;
}

/** Fits time and spread to the steps of a survival curve; only the time if a spread is given. */
function* fitted(
  segment: SegmentModel,
  points: Float64Array,
  masses: Float64Array,
  given?: number,
): Steps<{ spread: number; time: number }> {
  const at = (level: number): number => weightedQuantile(points, masses, level);
  const [about, range] = [at(0.5), Math.max(at(0.9) - at(0.1), 0.01)];
  let below = 0;
  const middles = masses.map((mass) => (below += mass) - mass / 2);
  const distance = (shares: TimeCdf, shift: number): number => {
    let sum = 0;
    for (let i = 0; i < points.length; i++) {
      sum += masses[i]! * (shareUnder(shares, points[i]! - shift) - middles[i]!) ** 2;
    }
    return sum;
  };
  const luckiest = segment.luck.reduce((sum, { adds }) => sum + Math.abs(adds), 0);
  const reach = range + luckiest;
  const bestShift = (spread: number): readonly [shift: number, distance: number] => {
    const shares = modelCdf(segment, about, spread, Math.max(0.005, Math.min(spread / 10, range / 20)));
    const shift = runToCompletion(minimizeScalarInSteps(-reach, reach, 33, 24, (by) => distance(shares, by)));
    return [shift, distance(shares, shift)];
  };
  const spread =
    given ??
    Math.exp(
      yield* minimizeScalarInSteps(
        Math.log(range / 200),
        Math.log(range * 2),
        14,
        18,
        (log) => bestShift(Math.exp(log))[1],
      ),
    );
  return { spread, time: Math.max(0, about + bestShift(spread)[0]) };
}

function* fitSegment(
  segment: SegmentModel,
  observations: readonly Observation[],
  leftOut: number,
): Steps<SegmentTime> {
  const runs = observations.filter(({ complete }) => complete).length;
  const longerThan = observations.length - runs;
  const own = { segment: segment.id, runs, longerThan, leftOut };
  if (runs < leastRuns.time) {
    return { ...own, time: segment.time, spread: segment.spread, timeFrom: 'route', spreadFrom: 'route' };
  }
  const { points, masses } = kaplanMeierSteps(observations);
  const enough = runs >= leastRuns.spread;
  const { time, spread } = yield* fitted(segment, points, masses, enough ? undefined : segment.spread);
  return {
    ...own,
    time,
    spread,
    timeFrom: 'runs',
    spreadFrom: enough ? 'runs' : 'route',
  };
}

/**
 * Usual time and spread of every segment, in the route's order: estimated from the runner's own runs if there are
 * at least {@link leastRuns}, else those of the route.
 */
export const fitSegmentTimes = inOneGo(fitSegmentTimesInSteps);

/** The same in steps, the longest of them one segment at one spread. */
export function* fitSegmentTimesInSteps(route: RouteModel, runs: readonly LoggedRun[]): Steps<SegmentTime[]> {
  const bySegment = new Map<string, { seen: Observation[]; leftOut: number }>();
  const segments = new Map(route.segments.map((segment) => [segment.id, segment]));
  const triesIn = triesReader(route);
  for (const run of runs) {
    const read = triesIn(run);
    yield;
    const { givenUp } = run;
    const all = run.times.map(({ segment, seconds }) => ({ segment, seconds, complete: true }));
    if (givenUp?.seconds !== undefined) all.push({ ...givenUp, seconds: givenUp.seconds, complete: false });
    for (const { segment: id, seconds, complete } of all) {
      const segment = segments.get(id);
      if (segment === undefined || !(seconds > 0) || !Number.isFinite(seconds)) continue;
      const entry = bySegment.get(id) ?? { seen: [], leftOut: 0 };
      bySegment.set(id, entry);
      const added = techniquesAdded(segment, run, read);
      if (added !== undefined) entry.seen.push({ seconds: seconds - added, complete });
      else if (complete) entry.leftOut++;
    }
  }
  const fits: SegmentTime[] = [];
  for (const segment of route.segments) {
    const { seen, leftOut } = bySegment.get(segment.id) ?? { seen: [], leftOut: 0 };
    fits.push(yield* fitSegment(segment, seen, leftOut));
  }
  return fits;
}

/** The route with its times and spreads replaced by the fitted ones. */
export function withSegmentTimes(route: RouteModel, fits: readonly SegmentTime[]): RouteModel {
  const byId = new Map(fits.map((fit) => [fit.segment, fit]));
  return {
    ...route,
    segments: route.segments.map((segment) => {
      const fit = byId.get(segment.id);
      return fit === undefined ? segment : { ...segment, time: fit.time, spread: fit.spread };
    }),
  };
}
