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
    return pruneAndNormalize({ grid, losses, curves, weight, row, rows: prior }, null);
  }
  const row = Int32Array.from(curves, (_, i) => i);
  const rows = new Float64Array(curves.length * width);
  curves.forEach((curve, i) => {
    const slot = grid.curveSlot[curve]! * width;
    for (let j = 0; j < width; j++) rows[i * width + j] = runs[i * width + j]! * prior[slot + j]!;
  });
  return pruneAndNormalize({ grid, losses, curves, weight, row, rows }, runs);
}

type Untrimmed = Omit<SkillPosterior, 'cumulative' | 'mass' | 'likelihood'>;

/** Leaves out negligible curves, scales the rest to a total of 1 and adds the running sums. */
function pruneAndNormalize(all: Untrimmed, runs: Float64Array | null): SkillPosterior {
  const width = all.losses.count;
  const rowCount = all.rows.length / width;
  const cumulative = new Float64Array(rowCount * (width + 1));
  for (let r = 0; r < rowCount; r++) {
    let sum = 0;
    for (let j = 0; j < width; j++) {
      sum += all.rows[r * width + j]!;
      cumulative[r * (width + 1) + j + 1] = sum;
    }
  }
  const masses = new Float64Array(all.curves.length);
  for (let i = 0; i < masses.length; i++)
    masses[i] = all.weight[i]! * cumulative[(all.row[i]! + 1) * (width + 1) - 1]!;
  const least = leastMass(masses);
  const kept: number[] = [];
  let total = 0;
  for (let i = 0; i < masses.length; i++) {
    if (masses[i]! < least) continue;
    kept.push(i);
    total += masses[i]!;
  }
  const curves = new Int32Array(kept.length);
  const weight = new Float64Array(kept.length);
  const row = new Int32Array(kept.length);
  const mass = new Float64Array(kept.length);
  const curve = new Float64Array(kept.length);
  const keptRuns = runs === null ? null : new Float64Array(kept.length * width);
  kept.forEach((i, to) => {
    curves[to] = all.curves[i]!;
    weight[to] = all.weight[i]! / total;
    row[to] = all.row[i]!;
    mass[to] = masses[i]! / total;
    curve[to] = all.weight[i]!;
    if (runs !== null) keptRuns?.set(runs.subarray(i * width, (i + 1) * width), to * width);
  });
  return { ...all, cumulative, curves, weight, row, mass, likelihood: { curve, runs: keptRuns } };
}
