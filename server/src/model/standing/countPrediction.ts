/**
 * Tests whether a technique landed less often in the last runs than expected: a one-sided exact test.
 *
 * The count of the last days is compared with the model's prediction, which includes the technique's earlier counts,
 * practice, forgetting and the counts of other techniques. Days differ by more than chance (beta-binomial). Half of the
 * chance of exactly this count is left out (mid-p; Lancaster 1961, J. Amer. Statist. Assoc. 56): counts are whole
 * numbers, and the full tail would call far fewer slips than the error rate allows. Over all techniques tested,
 * Holm's correction (Holm 1979, Scand. J. Statist. 6) keeps the chance that a review calls any slip where there is
 * none near {@link familywiseErrorRate}.
 */
import betaln from '@stdlib/math-base-special-betaln';
import type { Constants } from '../core/constants.ts';
import { practiceLogits } from '../skill/rateEstimates.ts';
import { concentrationAt, logBetaBinomial } from '../skill/countLikelihood.ts';
import { clamp, logistic } from '../core/numbers.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { AttemptCount } from '../core/types.ts';

/** Chance that a review calls at least one slip where no technique slipped. */
export const familywiseErrorRate = 0.05;

/** A distribution of a landing rate: points in log odds, each with its weight. */
export interface LogOddsDistribution {
  readonly weights: Float64Array;
}

const step = 0.1;
/** Number of points to each side of log odds 0: rates from 1e-4 to 1 − 1e-4. */
const reach = 92;
const points = 2 * reach + 1;

/** The landing rate at a point of a distribution. */
function rateAtPoint(point: number): number {
  return logistic((point - reach) * step);
}

function pointAtLogOdds(logOdds: number): number {
  return clamp(Math.round(logOdds / step) + reach, 0, points - 1);
}

/** The distribution of the landing rate in a run from a posterior, at a level of practice. */
export function expectedRateDistribution(posterior: SkillPosterior, level: number): LogOddsDistribution {
  const { losses, rows, row, weight } = posterior;
  const width = losses.count;
  const logits = practiceLogits(posterior, level);
  const weights = new Float64Array(points);
  for (let i = 0; i < logits.length; i++) {
    for (let j = 0; j < width; j++) {
      weights[pointAtLogOdds(logits[i]! - losses.from - j * losses.step)]! +=
        weight[i]! * rows[row[i]! * width + j]!;
    }
  }
  return { weights };
}

/** Logarithm of the binomial coefficient n over k. */
function logChoose(n: number, k: number): number {
  return -Math.log(n + 1) - betaln(n - k + 1, k + 1);
}

/** Chances of 0, 1, … landed of `tries` on a day whose rate is beta distributed around `rate`. */
function betaBinomialPmf(tries: number, rate: number, concentration: number): Float64Array {
  const alike = concentrationAt(rate, concentration);
  return Float64Array.from({ length: tries + 1 }, (_, landed) =>
    Math.exp(logChoose(tries, landed) + logBetaBinomial(landed, tries, rate, alike)),
  );
}

function convolve(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length + b.length - 1);
  for (let i = 0; i < a.length; i++) for (let j = 0; j < b.length; j++) out[i + j]! += a[i]! * b[j]!;
  return out;
}

/** A prediction of a count: the chance of so few or fewer landings, and the expected number. */
export interface CountPrediction {
  readonly chance: number;
  /** The same with half of the chance of exactly this count left out. */
  readonly midChance: number;
  readonly mean: number;
}

/** Weights below this share of the greatest are left out. */
const negligibleShare = 1e-6;

/**
 * Largest number of tries of one day that is computed exactly. Larger counts are reduced to it in proportion, which
 * makes it harder to report a slip.
 */
const maxTriesPerDay = 400;

/** The prediction of a count over some days from a distribution of the rate. */
export function predictCount(
  days: readonly AttemptCount[],
  rates: LogOddsDistribution,
  constants: Constants,
): CountPrediction {
  const cut = days.map(({ landed, tries }) =>
    tries <= maxTriesPerDay
      ? { landed, tries }
      : { landed: Math.ceil((landed * maxTriesPerDay) / tries), tries: maxTriesPerDay },
  );
  const landed = cut.reduce((sum, day) => sum + day.landed, 0);
  const tries = cut.reduce((sum, day) => sum + day.tries, 0);
  const top = rates.weights.reduce((a, b) => Math.max(a, b), 0);
  // Days with the same number of tries are computed once for each rate.
  const sizes = [...new Set(cut.map((day) => day.tries))];
  let chance = 0;
  let midChance = 0;
  let mean = 0;
  let total = 0;
  rates.weights.forEach((weight, point) => {
    if (!(weight > negligibleShare * top)) return;
    const rate = rateAtPoint(point);
    const bySize = new Map(sizes.map((size) => [size, betaBinomialPmf(size, rate, constants.concentration)]));
    const sum = cut.reduce<Float64Array>(
      (all, day) => convolve(all, bySize.get(day.tries)!),
      Float64Array.of(1),
    );
    let below = 0;
    for (let i = 0; i <= landed; i++) below += sum[i]!;
    chance += weight * below;
    midChance += weight * (below - sum[landed]! / 2);
    mean += weight * rate * tries;
    total += weight;
  });
  return total > 0
    ? { chance: Math.min(1, chance / total), midChance: Math.min(1, midChance / total), mean: mean / total }
    : { chance: 1, midChance: 1, mean: landed };
}

/**
 * Which of several tests are significant, by Holm's step-down rule: the chance of any false alarm is at most
 * `rate`, even if the tests are not independent.
 *
 * @example
 * holmRejections([0.001, 0.04, 0.03], 0.05) // [true, false, false]
 */
export function holmRejections(chances: readonly number[], rate: number): boolean[] {
  const order = [...chances.keys()].sort((a, b) => chances[a]! - chances[b]!);
  const rejected = chances.map(() => false);
  for (const [k, at] of order.entries()) {
    if (!(chances[at]! <= rate / (chances.length - k))) break;
    rejected[at] = true;
  }
  return rejected;
}
