import type { Uncounted } from '../../model/pool/countOnce.ts';
import { leastEntries } from '../../queries/poolDigest.ts';

/** Something that was given and does not count, and why. */
export interface NotCounted {
  /** The file that it is known by. */
  readonly source: string;
  /** A whole sentence. */
  readonly reason: string;
}

/** Why a runner or a pool does not count, where somebody else counts for it. */
export function uncountedReason({ why, instead }: Uncounted): string {
  const there = instead ?? '';
  return {
    'same-logs': `These are the logs of ${there} once more: the runner counts once.`,
    'in-pool': `This runner is in ${there} already, and counts there.`,
    'logs-here': 'The logs of all its runners are here, and count in its stead.',
    'same-runners': `It has the same runners as ${there}, which counts in its stead.`,
    within: `All its runners are in ${there}, which counts in its stead.`,
  }[why];
}

/** Why a runner who logged something does not count. */
export const tooFewEntries = `Fewer than ${leastEntries} entries of practice are logged.`;

/** Why a log does not count where several runners are named. */
export const nobodysLog = 'It names no runner, and others here do. Write `runner: NAME` into it.';

/** Why a log without a route does not count. */
export const nameless = 'It names no route.';

/** Why a runner does not count whose files are not all there. */
export const notRead = 'Not all of it could be read.';

/** Why a runner does not count of whom nothing would be told. */
export function nothingTold(minRunners: number): string {
  return `Nothing of this runner is told: fewer than ${minRunners} practised the same techniques, or they were in the runs before the logs began.`;
}

/** Why a pool does not count of which nothing would be told. */
export const nothingOfPool = 'Nothing that it says of a technique is in the sum.';

/** Why a pool with mistakes does not count; the mistakes themselves are said with their places. */
export const unusablePool = 'Nothing of it is used, because of what is wrong with it.';

/** Why a technique of a pool is left out. */
export function notInRoute(pool: string): string {
  return `${pool} tells of it, and the route has no technique of this id that is not told of already.`;
}
