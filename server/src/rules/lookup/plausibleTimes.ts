import { bestCaseSegments } from './bestCase.ts';
import type { LookupContext } from './lookupContext.ts';

/** Standard deviations beyond the best case: a time further off is a typing mistake, not luck. */
const luckiest = 5;
/** Even a bad segment stays under this many times its usual time. */
const slowest = 4;
/** Seconds that rounding may take off. */
const rounding = 0.5;

/** The times that a segment can have had, seconds. */
export interface PlausibleTimes {
  /** The time that the route gives. */
  readonly usual: number;
  /** May be below 0, where the segment can be as short as one likes. */
  readonly fastest: number;
  readonly longest: number;
}

/** The times that the segments of a route can have had, by their ids. A time outside of them is most likely a typing mistake. */
export function plausibleTimes(context: LookupContext): ReadonlyMap<string, PlausibleTimes> {
  const best = bestCaseSegments(context);
  return new Map(
    context.project.segments.map((segment, at) => {
      const { seconds, variance } = best[at]!;
      const fastest = seconds - luckiest * Math.sqrt(variance) - rounding;
      return [segment.id, { usual: segment.time, fastest, longest: slowest * segment.time }];
    }),
  );
}
