/** Statistics of a distribution of times: chances, quantiles, expected best of several runs. */
import type { TimeDistribution } from './timeDistribution.ts';
import { clamp } from '../core/numbers.ts';

/** Rounding error that a sum of segment times can have. */
const rounding = 1e-7;

/**
 * The share of a grid point's mass that is under `target` seconds. With scatter, a mass is spread over the whole
 * step around its point. Without scatter it is at exactly that time, and a time equal to the target does not beat
 * it.
 */
export function shareUnder(time: number, target: number, step: number, scatters: boolean): number {
  if (!scatters) return time < target - rounding ? 1 : 0;
  return clamp((target - time) / step + 0.5, 0, 1);
}

/** Chance that a started run has a final time under `target` seconds. */
export function chanceUnder(times: TimeDistribution, target: number): number {
  const { start, step, masses, scatters } = times;
  let sum = 0;
  for (let i = 0; i < masses.length; i++) {
    const share = shareUnder(start + i * step, target, step, scatters);
    if (share === 0) break;
    sum += share * masses[i]!;
  }
  return sum;
}

/** Total mass, and the mean time in seconds of the runs that arrive (the first grid time if none arrives). */
export function massAndMean(times: TimeDistribution): { readonly mass: number; readonly mean: number } {
  const { start, step, masses } = times;
  let mass = 0;
  let points = 0;
  for (let i = 0; i < masses.length; i++) {
    mass += masses[i]!;
    points += i * masses[i]!;
  }
  return { mass, mean: mass > 0 ? start + (points / mass) * step : start };
}

/** The quantile: the time in seconds below which a share `level` (0 to 1) of the arriving runs lies. */
export function quantileOf(times: TimeDistribution, level: number): number {
  const { start, step, masses, scatters } = times;
  let total = 0;
  for (const mass of masses) total += mass;
  const wanted = clamp(level, 0, 1) * total;
  let below = 0;
  for (let i = 0; i < masses.length; i++) {
    const mass = masses[i]!;
    if (mass > 0 && below + mass >= wanted) {
      const within = scatters ? (wanted - below) / mass - 0.5 : 0;
      return start + (i + within) * step;
    }
    below += mass;
  }
  return start + (masses.length - 1) * step;
}

/** The expected best, in seconds, of `runs` independent runs that finish. */
export function expectedBest(times: TimeDistribution, runs: number): number {
  const { start, step, masses } = times;
  let total = 0;
  for (const mass of masses) total += mass;
  if (!(total > 0)) return start;
  let slower = total;
  let before = 1;
  let points = 0;
  for (let i = 0; i < masses.length; i++) {
    slower -= masses[i]!;
    const after = i === masses.length - 1 ? 0 : Math.max(0, slower / total) ** runs;
    points += i * (before - after);
    before = after;
  }
  return start + points * step;
}

/** The weighted mixture of several distributions on the same grid. */
export function mixDistributions(
  parts: readonly { readonly weight: number; readonly times: TimeDistribution }[],
): TimeDistribution | undefined {
  const first = parts[0];
  if (first === undefined) return undefined;
  const { step } = first.times;
  const start = parts.reduce((least, { times }) => Math.min(least, times.start), Infinity);
  const shiftedParts = parts.map((part) => ({ ...part, at: Math.round((part.times.start - start) / step) }));
  const end = shiftedParts.reduce((most, { at, times }) => Math.max(most, at + times.masses.length), 1);
  const masses = new Float64Array(end);
  for (const { weight, times, at } of shiftedParts) {
    for (let i = 0; i < times.masses.length; i++) masses[at + i]! += weight * times.masses[i]!;
  }
  return { start, step, masses, scatters: parts.some(({ times }) => times.scatters) };
}
