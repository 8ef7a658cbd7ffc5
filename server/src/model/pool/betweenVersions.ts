/** What somebody learns who has two versions of a pool: the difference is the numbers of those runners who make it. */

/** An earlier version of a pool. */
export interface EarlierPool {
  /** Digests. */
  readonly runners: readonly string[];
  /** Day number on which it was made. */
  readonly day: number;
}

/** The version that is made now. */
export interface NewPool {
  /** Digests. */
  readonly runners: readonly string[];
  /** Day number of the last entry of those runners whose logs are here, by digest. */
  readonly lastDays: ReadonlyMap<string, number>;
}

/**
 * How many runners make the difference between two versions: those who joined, those who left, and those who logged something
 * since. An entry of the very day may have come later, so it counts as later.
 */
export function runnersBetween(before: EarlierPool, now: NewPool): number {
  const [earlier, later] = [new Set(before.runners), new Set(now.runners)];
  const left = before.runners.filter((digest) => !later.has(digest)).length;
  const joinedOrLogged = now.runners.filter(
    (digest) => !earlier.has(digest) || (now.lastDays.get(digest) ?? -Infinity) >= before.day,
  ).length;
  return left + joinedOrLogged;
}
