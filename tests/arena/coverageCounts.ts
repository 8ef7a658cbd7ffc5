/** How well forecasts with ranges agree with what became true, counted over runners. */
import type { Told } from './forecastCoverage.ts';

/** A mean over all techniques of all runners. */
export interface Share {
  readonly mean: number;
  /** Standard error, with the techniques of one runner taken together: they are alike. */
  readonly error: number;
}

export interface Agreement {
  /** Forecasts. */
  readonly count: number;
  /** Those with a range; of the shares below. */
  readonly ranges: number;
  /** Share of the ranges that hold the truth, that lie above it, and that lie below it. */
  readonly held: Share;
  readonly above: number;
  readonly below: number;
  /**
   * Share that should hold it: 80 %, and where a range begins at 0, below which no truth lies, 90 %.
   */
  readonly due: number;
  /** Mean forecast less mean truth, in their unit. */
  readonly bias: Share;
  readonly meanTruth: number;
}

/** No gain lies below this: where a range of gains begins here, it holds what is below its 90 % point. */
const least = 0;

const hasRange = ({ low, high }: Told): boolean => high > low;
const isHeld = ({ low, high, truth }: Told): boolean => truth >= low && truth <= high;

/**
 * Counts forecasts against the truth. A forecast whose range is a single value (nothing gained, almost surely) counts in the means
 * and not among the ranges.
 *
 * @param runners the forecasts of each runner
 */
export function agreement(runners: readonly (readonly Told[])[]): Agreement {
  const all = runners.flat();
  const ranged = runners.map((own) => own.filter(hasRange));
  const ranges = ranged.flat();
  const share = (which: (told: Told) => boolean): number => ranges.filter(which).length / ranges.length;
  const from0 = share(({ low }) => low <= least);
  return {
    count: all.length,
    ranges: ranges.length,
    held: meanOverRunners(ranged, (told) => (isHeld(told) ? 1 : 0)),
    above: share(({ low, truth }) => truth < low),
    below: share(({ high, truth }) => truth > high),
    due: 0.8 + 0.1 * from0,
    bias: meanOverRunners(runners, ({ mean, truth }) => mean - truth),
    meanTruth: all.reduce((sum, { truth }) => sum + truth, 0) / all.length,
  };
}

/**
 * The mean of a value over all forecasts. Its error is that of a ratio of two sums over independent runners: of the value, and of
 * the count (Cochran 1977, Sampling Techniques, section 6.3).
 */
function meanOverRunners(runners: readonly (readonly Told[])[], valueOf: (told: Told) => number): Share {
  const count = runners.reduce((sum, own) => sum + own.length, 0);
  const sums = runners.map((own) => own.reduce((sum, told) => sum + valueOf(told), 0));
  const mean = sums.reduce((a, b) => a + b, 0) / count;
  const squares = runners.reduce((sum, own, i) => sum + (sums[i]! - mean * own.length) ** 2, 0);
  const many = runners.length;
  return { mean, error: Math.sqrt((squares * many) / Math.max(1, many - 1)) / count };
}
