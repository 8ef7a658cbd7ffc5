/** How far the gain of a plan may fall out: what is uncertain about the techniques and about the runner. */
import { binMiddle, dropRows, dropsGivenRunner, heavyNodes, logBins } from '../drops.ts';
import { practiceLogits } from '../estimates.ts';
import type { Prepared } from '../prepare.ts';
import { marginal } from '../runner.ts';
import type { RateTable } from '../scale.ts';

/** A practised technique on some morning: its level with the practice and without. */
export interface Practised {
  readonly id: string;
  readonly saved: RateTable;
  readonly level: number;
  readonly idle: number;
}

/** The 10 and 90 % points of a gain as shares of its mean. */
export interface Spread {
  readonly low: number;
  readonly high: number;
}

/** The 90 % point of the standard normal distribution. */
const z = 1.2815515655446004;

/**
 * The spread of the techniques' gains together. They are independent given the runner's offset and pressure; their
 * sum is taken to be gamma-distributed, its quantiles by Wilson & Hilferty 1931 (M).
 */
export function spreadOf(prepared: Prepared, techniques: readonly Practised[]): Spread {
  const { runner, subjects } = prepared;
  const nodes = heavyNodes(marginal(runner, 'offset'), marginal(runner, 'pressure'));
  const weights = nodes.rows.flatMap((r) =>
    nodes.columns.map((c) => runner.weights[r * runner.pressures.length + c]!),
  );
  const total = weights.reduce((a, b) => a + b, 0);
  const means = new Float64Array(weights.length);
  const variances = new Float64Array(weights.length);
  for (const { id, saved, level, idle } of techniques) {
    const subject = subjects.get(id);
    if (subject === undefined) continue;
    const { posterior, technique } = subject;
    const drops = dropRows(
      posterior,
      practiceLogits(posterior, idle),
      practiceLogits(posterior, level),
      saved,
    );
    const top = drops.reduce((a, b) => Math.max(a, b), 0);
    if (!(top > 0)) continue;
    const bins = logBins(top, 8);
    const masses = dropsGivenRunner(posterior, technique.difficulty, drops, 1, runner, nodes, bins);
    for (let n = 0; n < weights.length; n++) {
      let mean = 0;
      let square = 0;
      for (let b = 1; b < bins.count; b++) {
        const drop = binMiddle(bins, b);
        mean += masses[n * bins.count + b]! * drop;
        square += masses[n * bins.count + b]! * drop * drop;
      }
      means[n]! += mean;
      variances[n]! += Math.max(0, square - mean * mean);
    }
  }
  let mean = 0;
  weights.forEach((w, n) => (mean += (w / total) * means[n]!));
  let variance = 0;
  weights.forEach((w, n) => (variance += (w / total) * (variances[n]! + (means[n]! - mean) ** 2)));
  if (!(mean > 0) || !(variance > 0)) return { low: 1, high: 1 };
  const shape = (mean * mean) / variance;
  const point = (at: number): number => Math.max(0, 1 - 1 / (9 * shape) + at / (3 * Math.sqrt(shape))) ** 3;
  return { low: point(-z), high: point(z) };
}
