/** Represents the uncertainty about the runner by a few possible runners, each with their own landing rates. */
import { quadratureNodes } from '../skill/quadratureNodes.ts';
import { logistic, logit, clamp } from '../core/numbers.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { PreparedModel } from './preparedModel.ts';
import { marginalWeights } from '../skill/runnerPosterior.ts';
import type { RunnerPosterior } from '../skill/runnerPosterior.ts';
import type { LandingRateOf } from './runState.ts';
import type { Rated } from '../core/rated.ts';

/** One possible runner. */
export interface RunnerScenario {
  /** Probability of this runner; the weights of a list sum to 1. */
  readonly weight: number;
  readonly rateOf: LandingRateOf;
  /** Places of the runner's offset and pressure in the grid of the posterior. */
  readonly row: number;
  readonly column: number;
}

/** Possible runners are left out if their probability is below this share of the greatest one. */
const leastShare = 2e-3;

/**
 * Mean landing rate in a run of one technique for each given offset (rows) and pressure (columns), from the log
 * odds in practice of its curves. The result is stored row by row.
 */
export function ratesGivenRunner(
  posterior: SkillPosterior,
  rated: Rated,
  logits: Float64Array,
  runner: RunnerPosterior,
  rows: readonly number[],
  columns: readonly number[],
): Float64Array {
  const { grid, curves, losses, likelihood } = posterior;
  const width = losses.count;
  const floor = grid.rateFloor;
  // Curves of the same slot have the same prior, so they are summed first.
  const weights = new Float64Array(grid.slots * width);
  const landed = new Float64Array(grid.slots * width);
  for (let i = 0; i < curves.length; i++) {
    const to = grid.curveSlot[curves[i]!]! * width;
    const own = likelihood.curve[i]!;
    for (let j = 0; j < width; j++) {
      const weight = own * (likelihood.runs === null ? 1 : likelihood.runs[i * width + j]!);
      const rate = clamp(logistic(logits[i]! - losses.from - j * losses.step), floor, 1 - floor);
      weights[to + j]! += weight;
      landed[to + j]! += weight * rate;
    }
  }
  const priors = runner.slotPriors(rated);
  const lossPriors = runner.lossPriors(rated);
  const out = new Float64Array(rows.length * columns.length);
  rows.forEach((row, r) => {
    const prior = priors[row]!;
    const along = new Float64Array(width);
    const alongLanded = new Float64Array(width);
    for (let slot = 0; slot < grid.slots; slot++) {
      const share = prior[slot]!;
      for (let j = 0; j < width; j++) {
        along[j]! += share * weights[slot * width + j]!;
        alongLanded[j]! += share * landed[slot * width + j]!;
      }
    }
    columns.forEach((column, c) => {
      const losses = lossPriors[column]!;
      let total = 0;
      let sum = 0;
      for (let j = 0; j < width; j++) {
        total += losses[j]! * along[j]!;
        sum += losses[j]! * alongLanded[j]!;
      }
      out[r * columns.length + c] = total > 0 ? sum / total : floor;
    });
  });
  return out;
}

/**
 * A few points of the runner's offset and pressure with their weights, and at each point the mean landing rate of
 * every given technique. Given offset and pressure, the techniques are independent of one another. The uncertainty
 * that remains about a single technique is replaced by its mean, which is exact for one run and a technique that is
 * tried once in it; for several runs see `persistentWorlds.ts`. The rates are shifted in log odds so that their mean over all points is the technique's posterior mean,
 * `means`.
 */
export function runnerScenarios(
  prepared: PreparedModel,
  means: ReadonlyMap<string, number>,
): RunnerScenario[] {
  const { runner, fittedTechniques: subjects } = prepared;
  const { rows, columns } = quadratureNodes(
    marginalWeights(runner, 'offset'),
    marginalWeights(runner, 'pressure'),
  );
  const pairs = rows.flatMap((row) => columns.map((column) => ({ row, column })));
  const weights = pairs.map(({ row, column }) => runner.weights[row * runner.pressures.length + column]!);
  const top = weights.reduce((a, b) => Math.max(a, b), 0);
  const kept = [...weights.keys()].filter((i) => weights[i]! > leastShare * top);
  const total = kept.reduce((sum, i) => sum + weights[i]!, 0);
  const rates = new Map<string, Float64Array>();
  for (const [id, mean] of means) {
    const subject = subjects.get(id);
    if (subject === undefined) continue;
    const { posterior, technique, logitsNow } = subject;
    const all = ratesGivenRunner(posterior, technique, logitsNow, runner, rows, columns);
    const own = Float64Array.from(kept, (i) => all[i]!);
    rates.set(
      id,
      centredRates(
        own,
        Float64Array.from(kept, (i) => weights[i]! / total),
        mean,
      ),
    );
  }
  return kept.map((i, n) => ({
    weight: weights[i]! / total,
    rateOf: (technique) => rates.get(technique)?.[n] ?? 0,
    ...pairs[i]!,
  }));
}

/** Shifts all rates by the same amount in log odds so that their weighted mean is `mean`. */
export function centredRates(rates: Float64Array, weights: Float64Array, mean: number): Float64Array {
  const moved = (by: number): Float64Array =>
    rates.map((rate) => logistic(logit(clamp(rate, 1e-9, 1 - 1e-9)) + by));
  let low = -3;
  let high = 3;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    const now = moved(middle).reduce((sum, rate, n) => sum + rate * weights[n]!, 0);
    if (now < mean) low = middle;
    else high = middle;
  }
  return moved((low + high) / 2);
}
