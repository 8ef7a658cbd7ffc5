/** Which of the runners and pools that somebody has together count, so that nobody counts twice. */
import { compareCodeUnits } from '../core/numbers.ts';
import type { PooledTechnique } from './pooledTechnique.ts';

/** Something that adds to a pool. */
interface Part {
  /** What it is called where it is said not to count; each has another. */
  readonly place: string;
  /** By the technique's id of today. */
  readonly techniques: ReadonlyMap<string, PooledTechnique>;
}

/** What the logs of one runner add. */
export interface RunnerPart extends Part {
  readonly digest: string;
  /** How much is logged. Of two copies of the same logs, the longer one is the newer. */
  readonly entries: number;
}

/** A whole pool. */
export interface PoolPart extends Part {
  /** Digests, each once. */
  readonly runners: readonly string[];
  /** Day number on which it was made. */
  readonly day: number;
}

/** Something that does not count, and why. */
export interface Uncounted {
  readonly place: string;
  /**
   * `same-logs`: a copy of another runner's logs, which is at least as long. `in-pool`: the runner is in a pool. `logs-here`: the logs
   * of all runners of the pool are here. `same-runners`: another pool has the same runners. `within`: another pool has
   * all of them and more.
   */
  readonly why: 'same-logs' | 'in-pool' | 'logs-here' | 'same-runners' | 'within';
  /** The place of what counts in its stead; undefined where that is several. */
  readonly instead: string | undefined;
}

/** What counts. */
export interface CountedParts {
  /** By digest. */
  readonly runners: readonly RunnerPart[];
  readonly pools: readonly PoolPart[];
  /** By place. */
  readonly uncounted: readonly Uncounted[];
}

/** Two pools with some runners in common, but not all: nobody can tell whose share of the sums is whose. */
export interface MixedPools {
  readonly places: readonly [string, string];
  /** How many runners are in both. */
  readonly shared: number;
}

/**
 * Chooses what counts, each runner once. Of two copies of a runner's logs the longer one counts, of two pools of the same runners
 * the later one. A pool counts less than the logs of its runners: those are newer, and tell of techniques that too few of them
 * practised. The answer is the same in any order of what is given.
 */
export function countOnce(
  parts: readonly RunnerPart[],
  given: readonly PoolPart[],
): CountedParts | MixedPools {
  const uncounted: Uncounted[] = [];
  const byDigest = new Map<string, RunnerPart>();
  for (const [digest, copies] of groupedByDigest(parts)) {
    const [longest, ...others] = copies.length > 1 ? copies.sort(longestFirst) : copies;
    byDigest.set(digest, longest!);
    for (const { place } of others) uncounted.push({ place, why: 'same-logs', instead: longest!.place });
  }
  const pools: PoolPart[] = [];
  for (const pool of [...given].sort(largestFirst)) {
    if (pool.runners.every((digest) => byDigest.has(digest))) {
      uncounted.push({ place: pool.place, why: 'logs-here', instead: undefined });
      continue;
    }
    const other = pools.find((one) => sharedRunners(one, pool) > 0);
    if (other === undefined) {
      pools.push(pool);
      continue;
    }
    const shared = sharedRunners(other, pool);
    if (shared < pool.runners.length) return { places: [other.place, pool.place], shared };
    const why = shared === other.runners.length ? 'same-runners' : 'within';
    uncounted.push({ place: pool.place, why, instead: other.place });
  }
  const runners: RunnerPart[] = [];
  for (const part of byDigest.values()) {
    const pool = pools.find((one) => one.runners.includes(part.digest));
    if (pool === undefined) runners.push(part);
    else uncounted.push({ place: part.place, why: 'in-pool', instead: pool.place });
  }
  runners.sort((a, b) => compareCodeUnits(a.digest, b.digest));
  uncounted.sort((a, b) => compareCodeUnits(a.place, b.place));
  return { runners, pools, uncounted };
}

function groupedByDigest(parts: readonly RunnerPart[]): Map<string, RunnerPart[]> {
  const groups = new Map<string, RunnerPart[]>();
  for (const part of parts) {
    const group = groups.get(part.digest);
    if (group === undefined) groups.set(part.digest, [part]);
    else group.push(part);
  }
  return groups;
}

function sharedRunners(a: PoolPart, b: PoolPart): number {
  const known = new Set(b.runners);
  return a.runners.filter((digest) => known.has(digest)).length;
}

function longestFirst(a: RunnerPart, b: RunnerPart): number {
  return b.entries - a.entries || byContent(a, b);
}

function largestFirst(a: PoolPart, b: PoolPart): number {
  return b.runners.length - a.runners.length || b.day - a.day || byContent(a, b);
}

/** What is chosen of two that are otherwise alike depends on what they say, and not on where they lie. */
function byContent(a: Part, b: Part): number {
  return compareCodeUnits(contentOf(a), contentOf(b)) || compareCodeUnits(a.place, b.place);
}

function contentOf({ techniques }: Part): string {
  return JSON.stringify([...techniques].sort(([a], [b]) => compareCodeUnits(a, b)));
}
