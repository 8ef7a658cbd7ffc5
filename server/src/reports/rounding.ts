import type { RunnerSummary } from '../model/core/results.ts';
import type { Estimate } from '../model/core/types.ts';

/**
 * Numbers for JSON: rounded to more digits than are meaningful and to fewer than rounding errors can change, so that
 * the same files give the same bytes on every machine.
 */

/** Rounds to four significant figures and at most six decimals. */
export function roundFigures(value: number): number {
  return Number(Number(value.toPrecision(4)).toFixed(6)) + 0;
}

/** Rounds a share to four decimals, a hundredth of a percent. */
export function roundShare(value: number): number {
  return Number(value.toFixed(4)) + 0;
}

/** Rounds seconds of a run to a hundredth. */
export function roundSeconds(value: number): number {
  return Number(value.toFixed(2)) + 0;
}

/** Rounds a difference in seconds to a thousandth. */
export function roundDifference(value: number): number {
  return Number(value.toFixed(3)) + 0;
}

/** Applies a rounding to a number; null stays null. */
export function roundOrNull(round: (value: number) => number, value: number | null): number | null {
  return value === null ? null : round(value);
}

export function roundEstimate({ mean, low, high }: Estimate, round: (value: number) => number): Estimate {
  return { mean: round(mean), low: round(low), high: round(high) };
}

/** Rounds what is known of the runner. */
export function roundRunner({ offset, pressure, step }: RunnerSummary): RunnerSummary {
  return {
    offset: roundEstimate(offset, roundShare),
    pressure: roundEstimate(pressure, roundShare),
    step: roundShare(step),
  };
}
