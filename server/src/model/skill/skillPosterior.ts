/** The posterior of one technique's learning curve and loss in runs. */
import type { Evidence, LossGrid } from './evidence.ts';
import type { CurveGrid } from './curveGrid.ts';
import { wordLikelihood } from './runnersWord.ts';

/**
 * Curves with their weights. The weight of curve i at each loss is `weight[i]` times the row of `rows` with number
 * `row[i]`. Without run counts all curves of a slot share one row.
 */
export interface SkillPosterior {
  readonly grid: CurveGrid;
  readonly losses: LossGrid;
  readonly curves: Int32Array;
  readonly weight: Float64Array;
  readonly row: Int32Array;
  readonly rows: Float64Array;
  /** Cumulative sums of each row of `rows`; each has one value more than its row. */
  readonly cumulative: Float64Array;
  /** Weight of each curve, summed over the losses; the weights sum to 1. */
  readonly mass: Float64Array;
  /**
   * Prior weight of the shape × likelihood of the counts. Does not include the prior of the half-way point and the
   * loss.
   */
  readonly likelihood: { readonly curve: Float64Array; readonly runs: Float64Array | null };
}

/** The lightest curves are left out, together at most this share of the posterior. */
const leftOut = 1e-4;

/** The least mass that is kept: below it lies no more than {@link leftOut}. Masses are told apart by powers of two. */
function leastMass(masses: Float64Array): number {
  let top = 0;
  let total = 0;
  for (let i = 0; i < masses.length; i++) {
    top = Math.max(top, masses[i]!);
    total += masses[i]!;
  }
  // From the greatest mass down; the last class takes everything below.
  const byClass = new Float64Array(64);
  for (let i = 0; i < masses.length; i++) {
    const halvings = masses[i]! > 0 ? Math.floor(Math.log2(top / masses[i]!)) : Infinity;
    byClass[Math.min(63, halvings)]! += masses[i]!;
  }
  let below = 0;
  let last = 63;
  while (last > 0 && below + byClass[last]! <= leftOut * total) below += byClass[last--]!;
  return top * 2 ** -(last + 1);
}

/**
 * The posterior of one technique: its evidence times the prior of half-way point and loss, which has one row over
 * the loss grid for each slot. Without evidence it is the prior itself.
 *
 * @param paysFrom where the runner's word is that the technique is in the run: log odds of its break-even rate
 */
export function skillPosterior(
  evidence: Evidence | null,
  prior: Float64Array,
  grid: CurveGrid,
  losses: LossGrid,
  paysFrom: number | null = null,
): SkillPosterior {
  const width = losses.count;
  const curves = evidence?.curves ?? Int32Array.from({ length: grid.curves }, (_, i) => i);
  const weight = Float64Array.from(curves, (c, i) => grid.curveWeight[c]! * (evidence?.practice[i] ?? 1));
  const counted = evidence?.runs ?? null;
  const word = paysFrom === null ? null : wordLikelihood(grid, curves, losses, paysFrom);
  const runs =
    counted === null || word === null ? (counted ?? word) : counted.map((own, i) => own * word[i]!);
  if (runs === null) {
    const row = Int32Array.from(curves, (curve) => grid.curveSlot[curve]!);
    const sums = runningSums(prior, width);
    const masses = weight.map((own, i) => own * sums[(row[i]! + 1) * (width + 1) - 1]!);
    const { kept, total } = heaviest(masses);
    return {
      ...keep({ grid, losses, curves, weight, masses }, kept, total),
      row: Int32Array.from(kept, (i) => row[i]!),
      rows: prior,
      cumulative: sums,
      likelihood: { curve: Float64Array.from(kept, (i) => weight[i]!), runs: null },
    };
  }
  const masses = new Float64Array(curves.length);
  for (let i = 0; i < masses.length; i++) {
    const slot = grid.curveSlot[curves[i]!]! * width;
    let sum = 0;
    for (let j = 0; j < width; j++) sum += runs[i * width + j]! * prior[slot + j]!;
    masses[i] = weight[i]! * sum;
  }
  const { kept, total } = heaviest(masses);
  const rows = new Float64Array(kept.length * width);
  const keptRuns = new Float64Array(kept.length * width);
  for (let to = 0, at = 0; to < kept.length; to++) {
    const own = kept[to]! * width;
    const slot = grid.curveSlot[curves[kept[to]!]!]! * width;
    for (let j = 0; j < width; j++, at++) {
      keptRuns[at] = runs[own + j]!;
      rows[at] = runs[own + j]! * prior[slot + j]!;
    }
  }
  return {
    ...keep({ grid, losses, curves, weight, masses }, kept, total),
    row: Int32Array.from(kept, (_, to) => to),
    rows,
    cumulative: runningSums(rows, width),
    likelihood: { curve: Float64Array.from(kept, (i) => weight[i]!), runs: keptRuns },
  };
}

/** The running sums of each row: one value more than the row, the first of them 0. */
function runningSums(rows: Float64Array, width: number): Float64Array {
  const count = rows.length / width;
  const sums = new Float64Array(count * (width + 1));
  for (let r = 0, from = 0, to = 0; r < count; r++) {
    let sum = 0;
    sums[to++] = 0;
    for (let j = 0; j < width; j++) {
      sum += rows[from++]!;
      sums[to++] = sum;
    }
  }
  return sums;
}

/** Which curves are not negligible, and the sum of their masses. */
function heaviest(masses: Float64Array): { readonly kept: readonly number[]; readonly total: number } {
  const least = leastMass(masses);
  const kept: number[] = [];
  let total = 0;
  for (let i = 0; i < masses.length; i++) {
    if (masses[i]! < least) continue;
    kept.push(i);
    total += masses[i]!;
  }
  return { kept, total };
}

type All = Pick<SkillPosterior, 'grid' | 'losses' | 'curves' | 'weight'> & { readonly masses: Float64Array };

/** The curves that are kept, scaled to a total of 1. */
function keep({ grid, losses, curves, weight, masses }: All, kept: readonly number[], total: number) {
  return {
    grid,
    losses,
    curves: Int32Array.from(kept, (i) => curves[i]!),
    weight: Float64Array.from(kept, (i) => weight[i]! / total),
    mass: Float64Array.from(kept, (i) => masses[i]! / total),
  };
}
