import type { FinishedRun } from '../../queries/finishedRuns.ts';
import { periodAt, type Period } from './progressPeriods.ts';

/** A finished run among those that are shown. */
export interface ShownRun extends FinishedRun {
  /** The best time up to this run, itself included; seconds. */
  readonly bestSoFar: number;
  /** Whether it was the first of that time or better. */
  readonly isBest: boolean;
}

/** Final times over the months. */
export interface BestTimes {
  /** Finished runs that are shown, in the order in which they were played. */
  readonly runs: readonly ShownRun[];
  /** How many runs were finished in the shown periods, and ever. */
  readonly finishedInPeriods: number;
  readonly finished: number;
  /** The best run ever; null where none was finished. */
  readonly best: FinishedRun | null;
  /** The best time before the shown periods, seconds; null where there is none. */
  readonly bestBefore: number | null;
  /** Each run that beat all before it, in the shown periods; `fasterBy` in seconds, null for the first run of all. */
  readonly records: readonly (FinishedRun & { readonly fasterBy: number | null })[];
  /** The time to beat, seconds; null where none is written. */
  readonly target: number | null;
}

/** About so many runs are shown at most. */
const mostRuns = 300;

/**
 * The best finished time so far, run by run.
 *
 * @param finished in the order in which they were played
 * @param target seconds
 */
export function bestTimes(
  finished: readonly FinishedRun[],
  periods: readonly Period[],
  target: number | null,
): BestTimes {
  let best: FinishedRun | null = null;
  let bestBefore: number | null = null;
  const inPeriods: ShownRun[] = [];
  const records: BestTimes['records'][number][] = [];
  for (const run of finished) {
    const before: number | null = best?.seconds ?? null;
    const isBest = before === null || run.seconds < before;
    if (isBest) best = run;
    const bestSoFar = isBest ? run.seconds : before;
    if (periodAt(periods, run.day) < 0) {
      bestBefore = bestSoFar;
      continue;
    }
    if (isBest) records.push({ ...run, fasterBy: before === null ? null : before - run.seconds });
    inPeriods.push({ ...run, bestSoFar, isBest });
  }
  return {
    runs: fewer(inPeriods, periods),
    finishedInPeriods: inPeriods.length,
    finished: finished.length,
    best,
    bestBefore,
    records,
    target,
  };
}

/**
 * All runs where they are not too many; otherwise, of each period, the fastest, the slowest and others spread evenly
 * over its runs.
 */
function fewer(runs: readonly ShownRun[], periods: readonly Period[]): readonly ShownRun[] {
  if (runs.length <= mostRuns) return runs;
  const each = Math.max(3, Math.floor(mostRuns / periods.length)) - 2;
  const byPeriod = new Map<number, ShownRun[]>();
  for (const run of runs) {
    const at = periodAt(periods, run.day);
    const those = byPeriod.get(at);
    if (those) those.push(run);
    else byPeriod.set(at, [run]);
  }
  return [...byPeriod.values()].flatMap((those) => {
    const step = Math.max(1, those.length / each);
    const kept = new Set(
      Array.from({ length: Math.min(each, those.length) }, (_, i) => Math.floor(i * step)),
    );
    kept.add(indexOfBest(those, (a, b) => a < b));
    kept.add(indexOfBest(those, (a, b) => a > b));
    return those.filter((_, i) => kept.has(i));
  });
}

/** Where the run stands that no other comes before; of equal ones, the first. */
function indexOfBest(runs: readonly ShownRun[], comesBefore: (a: number, b: number) => boolean): number {
  return runs.reduce((at, { seconds }, i) => (comesBefore(seconds, runs[at]!.seconds) ? i : at), 0);
}
