/**
 * The usual random scatter of a segment's time, on the time grid.
 *
 * It is the grid form of a shifted gamma distribution: the sum of a few equal geometric steps (a shifted negative
 * binomial), which has exactly the given mean and standard deviation on every grid. A gamma rather
 * than a lognormal, because
 * - it has a fastest possible time, two standard deviations under the mean, as a segment has;
 * - its right tail is exponential: slow segments happen, but mean and spread do not depend on very slow
 *   times that were never measured;
 * - each geometric step is a filter that needs one multiplication per grid point for any spread, so that a
 *   convolution costs the same for a spread of half a second as for one of ten.
 */
import { clamp, finiteOr } from '../core/numbers.ts';

/** The scatter of one segment on the grid. */
export interface SegmentNoise {
  /** Number of equal geometric steps in the sum; 0 if there is no scatter. */
  readonly stages: number;
  /** Chance that a geometric step continues by one more grid point. */
  readonly keep: number;
  /** Seconds at the first grid point. */
  readonly origin: number;
  /** Mean and standard deviation, seconds. */
  readonly mean: number;
  readonly spread: number;
  /** Number of grid points after which less than about 1e-15 of the mass remains. */
  readonly reach: number;
}

/** Skewness 2/√4 = 1, and a fastest time two standard deviations under the mean. Chosen for this model. */
const usualStages = 4;

/** No segment takes or scatters by more seconds than this (115 days): larger numbers are taken for typing errors. */
export const maxSeconds = 1e7;

/** A spread below this multiple of the grid step counts as none, because the grid cannot represent it. */
const leastSpread = 1e-6;

/**
 * The noise with the given mean and standard deviation (seconds) on a grid of `step` seconds. If the spread is more
 * than half of the time, fewer stages are used, so that the fastest time stays above zero if possible.
 */
export function gammaNoise(time: number, spread: number, step: number): SegmentNoise {
  const mean = clamp(finiteOr(time, 0), 0, maxSeconds);
  const sd = clamp(finiteOr(spread, 0), 0, maxSeconds);
  if (!(sd > leastSpread * step)) return { stages: 0, keep: 0, origin: mean, mean, spread: 0, reach: 1 };
  const stages = clamp(Math.floor((mean / sd) ** 2), 1, usualStages);
  const variance = (sd / step) ** 2;
  // From variance = stages·(1 − stop)/stop², in a form that keeps its precision for a small spread.
  const stop = (2 * stages) / (stages + Math.sqrt(stages * stages + 4 * variance * stages));
  const keep = 1 - stop;
  const origin = mean - (step * stages * keep) / stop;
  // The tail of a sum of geometric distributions is keep^n times a polynomial in n; eight more powers of e are
  // enough for the polynomial.
  const reach = 2 + Math.ceil(43 / -Math.log(Math.max(keep, 1e-300)));
  return { stages, keep, origin, mean, spread: sd, reach };
}

/**
 * Convolves masses with the noise, in place. Mass moves to the right, so `masses` must have enough room at its end.
 * Works for any number of stages.
 */
export function addNoise(noise: SegmentNoise, masses: Float64Array): void {
  const { keep, stages } = noise;
  const stop = 1 - keep;
  if (stages === usualStages) {
    // All four stages in one pass: their multiplications do not wait for one another, so the processor can execute
    // them in parallel.
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let i = 0; i < masses.length; i++) {
      a = stop * masses[i]! + keep * a;
      b = stop * a + keep * b;
      c = stop * b + keep * c;
      d = stop * c + keep * d;
      masses[i] = d;
    }
    return;
  }
  for (let stage = 0; stage < stages; stage++) {
    let a = 0;
    for (let i = 0; i < masses.length; i++) {
      a = stop * masses[i]! + keep * a;
      masses[i] = a;
    }
  }
}

/**
 * The reverse of {@link addNoise}: the value expected before the noise, from the values after it, in place. Beyond
 * the right end the last value is used.
 */
export function expectOverNoise(noise: SegmentNoise, values: Float64Array): void {
  const { keep, stages } = noise;
  const stop = 1 - keep;
  const last = values.at(-1) ?? 0;
  if (stages === usualStages) {
    let a = last;
    let b = last;
    let c = last;
    let d = last;
    for (let i = values.length - 1; i >= 0; i--) {
      a = stop * values[i]! + keep * a;
      b = stop * a + keep * b;
      c = stop * b + keep * c;
      d = stop * c + keep * d;
      values[i] = d;
    }
    return;
  }
  for (let stage = 0; stage < stages; stage++) {
    let a = last;
    for (let i = values.length - 1; i >= 0; i--) {
      a = stop * values[i]! + keep * a;
      values[i] = a;
    }
  }
}
