/**
 * The everyday scatter of a segment's time, on the time grid.
 *
 * It is a shifted gamma in its form for a grid: the sum of a few equal geometric steps (a shifted negative
 * binomial), which has exactly the mean and standard deviation asked for, however coarse the grid. A gamma rather
 * than a lognormal, because
 * - it has a fastest possible time, two standard deviations under the mean, as a segment has;
 * - its right tail is exponential: slow segments happen, but mean and spread do not depend on the far tail that nobody measured;
 * - each geometric step is a filter that needs one multiplication a grid point whatever the spread, so that a
 *   convolution costs the same for a spread of half a second as for one of ten.
 */
import { clamp, finiteOr } from '../core/numbers.ts';

/** Scatter of one segment on the grid. */
export interface SegmentNoise {
  /** Number of equal geometric steps it is the sum of; 0 where there is no scatter. */
  readonly stages: number;
  /** Chance that a geometric step goes on by another grid point. */
  readonly keep: number;
  /** Seconds at the first grid point. */
  readonly origin: number;
  /** Mean and standard deviation, seconds. */
  readonly mean: number;
  readonly spread: number;
  /** Grid points after which less than about 1e-15 is left. */
  readonly reach: number;
}

/** Skewness 2/√4 = 1, and a fastest time two standard deviations under the mean. Chosen for this model. */
const usualStages = 4;

/** No segment takes or scatters by more seconds than this (115 days): larger numbers are slips of the pen. */
export const maxSeconds = 1e7;

/** A spread this small against the grid step is none: the grid cannot show it. */
const leastSpread = 1e-6;

/**
 * The noise with the given mean and standard deviation (seconds) on a grid of `step` seconds. Where the spread is
 * more than half the time, fewer stages are taken, so that the fastest time stays above zero as long as it can.
 */
export function gammaNoise(time: number, spread: number, step: number): SegmentNoise {
  const mean = clamp(finiteOr(time, 0), 0, maxSeconds);
  const sd = clamp(finiteOr(spread, 0), 0, maxSeconds);
  if (!(sd > leastSpread * step)) return { stages: 0, keep: 0, origin: mean, mean, spread: 0, reach: 1 };
  const stages = clamp(Math.floor((mean / sd) ** 2), 1, usualStages);
  const variance = (sd / step) ** 2;
  // From variance = stages·(1 − stop)/stop², written so that a small spread loses no digits.
  const stop = (2 * stages) / (stages + Math.sqrt(stages * stages + 4 * variance * stages));
  const keep = 1 - stop;
  const origin = mean - (step * stages * keep) / stop;
  // Tail of a sum of geometrics: keep^n times a polynomial in n, which eight further powers of e cover.
  const reach = 2 + Math.ceil(43 / -Math.log(Math.max(keep, 1e-300)));
  return { stages, keep, origin, mean, spread: sd, reach };
}

/**
 * Spreads masses by the noise, in place and to the right: `masses` must have room for what moves. Noise of any
 * number of stages.
 */
export function addNoise(noise: SegmentNoise, masses: Float64Array): void {
  const { keep, stages } = noise;
  const stop = 1 - keep;
  if (stages === usualStages) {
    // All four in one pass: each waits only for itself, so the processor works on them side by side.
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
 * The reverse of {@link addNoise}: the value expected before the noise, from values after it, in place. Beyond the
 * right end the last value holds on.
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
