/**
 * The rank of a true value in a posterior, from 0 to 1: the share of the posterior below it, which is its rank among
 * infinitely many draws. If the posterior is right, ranks over runners drawn from the prior are uniform (Talts,
 * Betancourt, Simpson, Vehtari & Gelman 2018).
 */
import { exponential } from '../../server/src/model/skill/curveGrid.ts';
import type { SkillPosterior } from '../../server/src/model/skill/skillPosterior.ts';

/**
 * The share below `at` of a bell-shaped density given on evenly spaced points; log weights between the points by cubic
 * interpolation.
 */
export function rankInBell(points: ArrayLike<number>, weights: ArrayLike<number>, at: number): number {
  const last = points.length - 1;
  const logs = Array.from(weights, (w) => Math.log(Math.max(w, 1e-300)));
  const step = (points[last]! - points[0]!) / last;
  const fine = 40;
  let [below, total] = [0, 0];
  for (let i = 0; i < last * fine; i++) {
    const x = (i + 0.5) / fine;
    const base = Math.min(last - 2, Math.max(1, Math.floor(x)));
    const t = x - base;
    const [a, b, c, d] = [logs[base - 1]!, logs[base]!, logs[base + 1]!, logs[base + 2]!];
    const log =
      (-t * (t - 1) * (t - 2) * a) / 6 +
      ((t + 1) * (t - 1) * (t - 2) * b) / 2 -
      ((t + 1) * t * (t - 2) * c) / 2 +
      ((t + 1) * t * (t - 1) * d) / 6;
    const weight = Math.exp(log);
    total += weight;
    if (points[0]! + x * step < at) below += weight;
  }
  return below / total;
}

interface Cell {
  readonly mass: number;
  readonly from: number;
  readonly width: number;
  /** `exponential` for curves that are no logistic curves. */
  readonly steepness: number;
  readonly ceiling: number;
  readonly floor: number;
  /** e^(head start). */
  readonly head: number;
}

/** The curves of a posterior. Each represents all half-way points that are nearest to its own. */
function cellsOf({ grid, curves, mass }: SkillPosterior): Cell[] {
  return Array.from(curves, (curve, i) => {
    const slot = grid.curveSlot[curve]!;
    const first = grid.slotFrom[slot]!;
    const width = grid.slotMidway[first + 1]! - grid.slotMidway[first]!;
    const shape = curve % grid.shapes;
    return {
      mass: mass[i]!,
      from: grid.slotMidway[slot]! - width / 2,
      width,
      steepness: grid.pairSteepness[Math.floor(curve / grid.shapes)]!,
      ceiling: grid.curveCeiling[curve]!,
      floor: grid.curveFloor[curve]!,
      head: grid.headStartFactors[Math.floor(shape / grid.shapesPerHeadStart)]!,
    };
  });
}

const share = (x: number): number => Math.min(1, Math.max(0, x));

/** Share of the posterior with a half-way point below `midway`. */
export function rankOfMidway(posterior: SkillPosterior, midway: number): number {
  return cellsOf(posterior).reduce(
    (sum, { mass, from, width }) => sum + mass * share((midway - from) / width),
    0,
  );
}

/**
 * Share of the posterior with a landing rate in practice below `rate` at a level of practice. At the lowest and the
 * highest rate of the model many curves have the same rate: `tie`, from 0 to 1, is the share of those that counts as
 * below.
 */
export function rankOfPractice(posterior: SkillPosterior, level: number, rate: number, tie: number): number {
  const least = posterior.grid.rateFloor;
  const below = (at: number): number =>
    cellsOf(posterior).reduce((sum, { mass, from, width, steepness, ceiling, floor, head }) => {
      const learned = (at - floor) / (ceiling - floor);
      if (learned <= 0) return sum;
      if (learned >= 1) return sum + mass;
      // A curve with a later half-way point has a lower rate.
      const past =
        steepness === exponential
          ? Math.log(-Math.log2(1 - learned))
          : Math.log(learned / (1 - learned)) / steepness;
      const edge = Math.log(head + Math.expm1(level)) - past;
      return sum + mass * share((from + width - edge) / width);
    }, 0);
  if (rate <= least) return tie * below(least);
  if (rate >= 1 - least) return below(1 - least) + tie * (1 - below(1 - least));
  return below(rate);
}

/** Chi-square statistic of ranks against equally filled bins. */
export function chiSquareOfRanks(ranks: readonly number[], bins: number): number {
  const counts = new Array<number>(bins).fill(0);
  for (const rank of ranks) counts[Math.min(bins - 1, Math.floor(rank * bins))]!++;
  const expected = ranks.length / bins;
  return counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
}
