import type { Estimate } from '../model/core/types.ts';

/**
 * Numbers for JSON: rounded to more digits than they are worth and fewer than rounding errors reach, so that the
 * same files give the same bytes anywhere.
 */

/** Four figures, at most six decimals. */
export function roundFigures(value: number): number {
  return Number(Number(value.toPrecision(4)).toFixed(6)) + 0;
}

/** Four decimals: a hundredth of a percent. */
export function roundShare(value: number): number {
  return Number(value.toFixed(4)) + 0;
}

/** Seconds of a run, to a hundredth. */
export function roundSeconds(value: number): number {
  return Number(value.toFixed(2)) + 0;
}

/** Seconds by which two things differ, to a thousandth. */
export function roundDifference(value: number): number {
  return Number(value.toFixed(3)) + 0;
}

/** Applies a rounding where there is a number. */
export function roundOrNull(round: (value: number) => number, value: number | null): number | null {
  return value === null ? null : round(value);
}

export function roundEstimate({ mean, low, high }: Estimate, round: (value: number) => number): Estimate {
  return { mean: round(mean), low: round(low), high: round(high) };
}
