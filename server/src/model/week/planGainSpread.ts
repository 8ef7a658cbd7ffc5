/** The uncertainty of the gain of a plan, from the uncertainty about the techniques and about the runner. */
import { quadratureNodes } from '../skill/quadratureNodes.ts';
import type { QuadratureNodes } from '../skill/quadratureNodes.ts';
import { practiceLogits } from '../skill/rateEstimates.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { PreparedModel } from '../run/preparedModel.ts';
import { marginalWeights } from '../skill/runnerPosterior.ts';
import { interpolateTable } from '../core/rateTable.ts';
import type { RateTable } from '../core/rateTable.ts';
import { ratingKey } from '../core/rated.ts';

/** A practised technique on one morning: its level with the planned practice and without it. */
export interface PractisedTechnique {
  readonly id: string;
  readonly saved: RateTable;
  readonly level: number;
  readonly idle: number;
}

/** The 10 % and 90 % quantiles of a gain, as multiples of its mean. */
export interface PlanGainSpread {
  readonly low: number;
  readonly high: number;
}

/** The 90 % point of the standard normal distribution. */
const normalQuantile90 = 1.2815515655446004;

/** Mean and variance of a gain at each node (offset, pressure) of the runner. */
interface Moments {
  readonly means: Float64Array;
  readonly variances: Float64Array;
}

/**
 * The spread of the sum of the techniques' gains. The gains are independent given the runner's offset and pressure.
 * The sum is approximated by a gamma distribution, and its quantiles are from Wilson & Hilferty 1931.
 *
 * @param morning number of the morning in the plan; cached values are kept under it
 */
export function planGainSpread(
  prepared: PreparedModel,
  techniques: readonly PractisedTechnique[],
  morning: number,
): PlanGainSpread {
  const { runner } = prepared;
  const nodes = quadratureNodes(marginalWeights(runner, 'offset'), marginalWeights(runner, 'pressure'));
  const weights = nodes.rows.flatMap((r) =>
    nodes.columns.map((c) => runner.weights[r * runner.pressures.length + c]!),
  );
  const total = weights.reduce((a, b) => a + b, 0);
  const means = new Float64Array(weights.length);
  const variances = new Float64Array(weights.length);
  for (const practised of techniques) {
    const own = momentsOf(prepared, practised, nodes, morning);
    for (let n = 0; n < weights.length; n++) {
      means[n]! += own?.means[n] ?? 0;
      variances[n]! += own?.variances[n] ?? 0;
    }
  }
  let mean = 0;
  weights.forEach((w, n) => (mean += (w / total) * means[n]!));
  let variance = 0;
  weights.forEach((w, n) => (variance += (w / total) * (variances[n]! + (means[n]! - mean) ** 2)));
  if (!(mean > 0) || !(variance > 0)) return { low: 1, high: 1 };
  const shape = (mean * mean) / variance;
  const point = (at: number): number => Math.max(0, 1 - 1 / (9 * shape) + at / (3 * Math.sqrt(shape))) ** 3;
  return { low: point(-normalQuantile90), high: point(normalQuantile90) };
}

/** Mean and variance of one technique's gain given the runner. */
function momentsOf(
  { runner, fittedTechniques: subjects }: PreparedModel,
  { id, saved, level, idle }: PractisedTechnique,
  nodes: QuadratureNodes,
  morning: number,
): Moments | null {
  const subject = subjects.get(id);
  if (subject === undefined) return null;
  const { posterior, memory } = subject;
  const rated = subject.technique;
  const on = [
    posterior,
    ratingKey(rated),
    saved,
    level,
    idle,
    runner.runnerGrid,
    ...nodes.rows,
    ...nodes.columns,
  ];
  return memory.getOrCompute(`gain on morning ${morning}`, on, () => {
    const sums = sumsBySlot(
      posterior,
      practiceLogits(posterior, idle),
      practiceLogits(posterior, level),
      saved,
    );
    return momentsGivenRunner(sums, posterior, runner.slotPriors(rated), runner.lossPriors(rated), nodes);
  });
}

/**
 * Sums over the curves of each slot, for each loss: of the likelihood, of the likelihood × gain, and of the
 * likelihood × gain².
 */
type MomentSums = readonly [Float64Array, Float64Array, Float64Array];

function sumsBySlot(
  { grid, curves, losses, likelihood, weight, row, rows }: SkillPosterior,
  before: Float64Array,
  after: Float64Array,
  saved: RateTable,
): MomentSums {
  const width = losses.count;
  const alone = new Float64Array(grid.slots * width);
  const gains = new Float64Array(grid.slots * width);
  const squares = new Float64Array(grid.slots * width);
  for (let i = 0; i < curves.length; i++) {
    const to = grid.curveSlot[curves[i]!]! * width;
    const own = likelihood.curve[i]!;
    for (let j = 0; j < width; j++) {
      // A point with a negligible weight in the posterior is negligible at all nodes with a large weight, too.
      if (weight[i]! * rows[row[i]! * width + j]! < 1e-9) continue;
      const seen = likelihood.runs === null ? own : own * likelihood.runs[i * width + j]!;
      const loss = losses.from + j * losses.step;
      const gain =
        seen * (interpolateTable(saved, after[i]! - loss) - interpolateTable(saved, before[i]! - loss));
      alone[to + j]! += seen;
      gains[to + j]! += gain;
      if (seen > 0) squares[to + j]! += (gain / seen) * gain;
    }
  }
  return [alone, gains, squares];
}

/** Combines the sums with the prior at each node of the runner. */
function momentsGivenRunner(
  sums: MomentSums,
  { grid, losses: { count: width } }: SkillPosterior,
  slotPriors: readonly Float64Array[],
  lossPriors: readonly Float64Array[],
  { rows, columns }: QuadratureNodes,
): Moments {
  const means = new Float64Array(rows.length * columns.length);
  const variances = new Float64Array(means.length);
  rows.forEach((u, r) => {
    const along = sums.map((sum) => {
      const of = new Float64Array(width);
      for (let slot = 0; slot < grid.slots; slot++) {
        const share = slotPriors[u]![slot]!;
        for (let j = 0; j < width; j++) of[j]! += share * sum[slot * width + j]!;
      }
      return of;
    });
    columns.forEach((k, c) => {
      const [total, gain, square] = along.map((of) =>
        of.reduce((sum, value, j) => sum + lossPriors[k]![j]! * value, 0),
      );
      if (!(total! > 0)) return;
      const mean = gain! / total!;
      means[r * columns.length + c] = mean;
      variances[r * columns.length + c] = Math.max(0, square! / total! - mean * mean);
    });
  });
  return { means, variances };
}
