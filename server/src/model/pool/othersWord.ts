/**
 * What a pool says of a technique to a runner: the prior of its half-way point, of its loss in runs and of its curve.
 *
 * How much runners have in common is learned from the pool itself: each share, none among them, weighs as much as it explains
 * what all techniques of the pool counted, so that a pool of runners who have nothing in common changes nothing. The sums are
 * exact on the grid of the pool.
 */
import type { Constants } from '../core/constants.ts';
import type { Deviation, OthersWord } from '../core/rated.ts';
import { learnerKinds } from '../skill/learnerKinds.ts';
import { midwayMean } from '../skill/slotPrior.ts';
import { commonShares, lossPlaces, midwayPlaces, perLog } from './commonParts.ts';
import type { PooledNumbers, PooledTechnique } from './pooledTechnique.ts';

/** What a pool says of one technique, at the rating that it has now. */
export interface PooledRating {
  /** The rating now, 1 to 10; that of the pool may have been another. */
  readonly difficulty: number;
  readonly pooled: PooledTechnique;
}

/** What a pool says of each technique, in the order given. */
export function othersWords(ratings: readonly PooledRating[], constants: Constants): OthersWord[] {
  const midways = deviationsOf(
    ratings.map(({ pooled, difficulty }) => ({
      numbers: pooled.midway,
      // The common part is counted from the rating of the pool; what is likely, from the rating of now.
      ahead: rated(difficulty, constants) - rated(pooled.difficulty, constants),
      // Runners who are all quicker than usual look like techniques that are all easier.
      alike: constants.offsetSd ** 2 / Math.max(1, pooled.runners),
    })),
    midwayPlaces,
    constants.midwaySd,
  );
  const losses = deviationsOf(
    ratings.map(({ pooled }) => ({
      numbers: pooled.loss,
      ahead: 0,
      alike: constants.pressureSd ** 2 / Math.max(1, pooled.runners),
    })),
    lossPlaces,
    constants.ownPressureSd,
  );
  const usual = usualShapes(constants);
  const shapes = {
    suddenness: factorsOf(ratings, 'suddenness', usual.suddenness),
    ceiling: factorsOf(ratings, 'ceiling', usual.ceiling),
    floor: factorsOf(ratings, 'floor', usual.floor),
  };
  return ratings.map(({ pooled }, i) => ({
    runners: pooled.runners,
    midway: { mean: midways[i]!.mean, sd: midways[i]!.sd },
    commonSd: midways[i]!.commonSd,
    loss: { mean: losses[i]!.mean, sd: losses[i]!.sd },
    shape: {
      suddenness: shapes.suddenness[i]!,
      ceiling: shapes.ceiling[i]!,
      floor: shapes.floor[i]!,
    },
  }));
}

function rated(difficulty: number, constants: Constants): number {
  return midwayMean({ difficulty }, 0, constants);
}

interface CountedPlaces {
  readonly numbers: PooledNumbers | undefined;
  /** By how much the place 0 of now is later than that of the numbers. */
  readonly ahead: number;
  /** Variance of what all techniques have in common because of the runners who practised them. */
  readonly alike: number;
}

/** Mean and variance of the common part of one technique, if all have a share in common, and how well that explains the counts. */
interface Explained {
  readonly logWeight: number;
  readonly mean: number;
  readonly variance: number;
}

const nothing: Explained = { logWeight: 0, mean: 0, variance: 0 };

interface CommonDeviation extends Deviation {
  readonly commonSd: number;
}

/** The deviation of each technique from its rating that a further runner is to expect. */
function deviationsOf(
  techniques: readonly CountedPlaces[],
  places: readonly number[],
  sd: number,
): CommonDeviation[] {
  const explained = techniques.map(({ numbers, ahead, alike }) =>
    commonShares.map(({ name, share }) => {
      const before = share * sd * sd;
      if (numbers === undefined) return { ...nothing, variance: before };
      const one = explainedBy(numbers[name], places, ahead, Math.sqrt(before));
      return { ...one, variance: Math.min(before, one.variance + alike) };
    }),
  );
  const weights = shareWeights(explained.map((of) => of.map(({ logWeight }) => logWeight)));
  return explained.map((of) => {
    const all = [
      { ...nothing, share: 0 },
      ...of.map((one, i) => ({ ...one, share: commonShares[i]!.share })),
    ];
    let [mean, common, own] = [0, 0, 0];
    all.forEach((one, i) => {
      mean += weights[i]! * one.mean;
      common += weights[i]! * (one.mean ** 2 + one.variance);
      own += weights[i]! * (1 - one.share) * sd * sd;
    });
    const variance = Math.max(0, common - mean ** 2);
    return { mean, sd: Math.sqrt(variance + own), commonSd: Math.sqrt(variance) };
  });
}

/** The common part of one technique under one share: prior times what was counted, over the places. */
function explainedBy(
  logs: readonly number[],
  places: readonly number[],
  ahead: number,
  sd: number,
): Explained {
  const prior = places.map((place) => Math.exp(-0.5 * ((place - ahead) / sd) ** 2));
  const top = Math.max(...logs);
  let [before, now, sum, square] = [0, 0, 0, 0];
  places.forEach((place, i) => {
    const weight = prior[i]! * Math.exp((logs[i]! - top) / perLog);
    before += prior[i]!;
    now += weight;
    sum += weight * place;
    square += weight * place * place;
  });
  if (!(now > 0 && before > 0)) return { ...nothing, variance: sd * sd };
  const mean = sum / now;
  return {
    logWeight: Math.log(now / before) + top / perLog,
    mean: mean - ahead,
    variance: square / now - mean ** 2,
  };
}

/**
 * Weight of each share, none first, all alike before anything was counted.
 *
 * @param logWeights for each technique, how well each share explains its counts against none, as logarithms
 */
function shareWeights(logWeights: readonly (readonly number[])[]): number[] {
  const logs = [0, ...commonShares.map((_, i) => logWeights.reduce((sum, of) => sum + of[i]!, 0))];
  const top = Math.max(...logs);
  const weights = logs.map((log) => Math.exp(log - top));
  const all = weights.reduce((a, b) => a + b, 0);
  return weights.map((weight) => weight / all);
}

/** The usual weights of suddenness, ceiling and floor: the mean over the kinds of learner. */
function usualShapes(constants: Constants): Record<'suddenness' | 'ceiling' | 'floor', readonly number[]> {
  const kinds = learnerKinds(constants);
  const mean = (of: 'steepness' | 'ceilings' | 'floors'): number[] =>
    kinds[0]![of].map((_, i) => kinds.reduce((sum, kind) => sum + kind.share * kind[of][i]!, 0));
  return { suddenness: mean('steepness'), ceiling: mean('ceilings'), floor: mean('floors') };
}

/**
 * By what factor a pool changes the weights of one property of the curve: a further runner meets with the learned share the
 * value that runners have in common, and else any of the usual ones.
 */
function factorsOf(
  ratings: readonly PooledRating[],
  property: 'suddenness' | 'ceiling' | 'floor',
  usual: readonly number[],
): number[][] {
  const explained = ratings.map(({ pooled }) =>
    commonShares.map(({ name, share }) => commonValue(pooled[property]?.[name], usual, share)),
  );
  const weights = shareWeights(explained.map((of) => of.map(({ logWeight }) => logWeight)));
  return explained.map((of) =>
    usual.map((_, value) =>
      of.reduce((sum, { factors }, i) => sum + weights[i + 1]! * factors[value]!, weights[0]!),
    ),
  );
}

function commonValue(logs: readonly number[] | undefined, usual: readonly number[], share: number) {
  if (logs === undefined) return { logWeight: 0, factors: usual.map(() => 1) };
  const top = Math.max(...logs);
  const weights = usual.map((weight, i) => weight * Math.exp((logs[i]! - top) / perLog));
  const now = weights.reduce((a, b) => a + b, 0);
  return {
    logWeight: Math.log(now) + top / perLog,
    factors: usual.map((weight, i) => 1 - share + (weight > 0 ? (share * weights[i]!) / now / weight : 0)),
  };
}
