import type { Segment, WeekDocument } from '../../files/documents/documents.ts';
import { routeIndexOf } from './routeIndex.ts';
import type { LookupContext } from './lookupContext.ts';

/** Standard deviations below its usual time that a whole run may be: about one run in 30,000 is further off. */
const maxDeviations = 4;

/** A segment, or a whole run, in which everything lands and luck is as good as it gets. */
export interface BestCase {
  /** Seconds. */
  readonly seconds: number;
  /** Variance of the time, seconds squared. */
  readonly variance: number;
}

/** The best cases of a route's segments, each by the faster of the route's time and the runner's own. */
export function bestCaseSegments(context: LookupContext): BestCase[] {
  const { project } = context;
  const saved = routeIndexOf(context).maxTimeSaved.resultsFor(project.segments, project);
  const mine = ownTimes(context);
  return project.segments.map((segment, at) => bestCaseOf(segment, mine?.get(segment.id), saved[at]!.result));
}

/** Seconds of a run so fast that hardly any run is faster. */
export function fastestPlausibleRun(context: LookupContext): number {
  let seconds = 0;
  let variance = 0;
  for (const segment of bestCaseSegments(context)) {
    seconds += segment.seconds;
    variance += segment.variance;
  }
  return Math.max(0, seconds - maxDeviations * Math.sqrt(variance));
}

/** The runner's own times by segment; undefined where there are none. */
function ownTimes({ own }: LookupContext): ReadonlyMap<string, OwnTime> | undefined {
  const times = own.week?.document.times ?? [];
  return times.length > 0 ? new Map(times.map((time) => [time.id, time])) : undefined;
}

type OwnTime = WeekDocument['times'][number];

/** @param saved seconds that techniques and luck save at the most */
function bestCaseOf({ time, spread }: Segment, mine: OwnTime | undefined, saved: number): BestCase {
  return {
    seconds: Math.max(0, Math.min(time, mine?.time ?? time) - saved),
    variance: Math.max(spread, mine?.spread ?? 0) ** 2,
  };
}
