import { describe, expect, test } from 'vitest';
import { defaultConstants as usual } from '../../../../server/src/model/core/constants.ts';
import { assess } from '../../../../server/src/model/index.ts';
import { combine } from '../../../../server/src/model/pool/addUp.ts';
import { commonShares, midwayPlaces, perLog } from '../../../../server/src/model/pool/commonParts.ts';
import { othersWords } from '../../../../server/src/model/pool/othersWord.ts';
import { block, plainOptions, route, segment, technique, use } from '../../../helpers/invented.ts';
import { numbers, pooled, silent } from '../../../helpers/pooledNumbers.ts';

const wordOf = (of: ReturnType<typeof pooled>, difficulty = of.difficulty) =>
  othersWords([{ difficulty, pooled: of }], usual)[0]!;

/**
 * What many runners say together who measured a technique's common part to `sd`: how much more likely each place makes that than
 * a part that nobody has in common does. Where a share is given, it alone explains the counts.
 */
const bell = (about: number, sd: number, only?: number) =>
  numbers((share) =>
    midwayPlaces.map((place) => {
      const here = -0.5 * ((place - about) / sd) ** 2 - Math.log(sd);
      const none = (-0.5 * about ** 2) / (1 + sd ** 2) - 0.5 * Math.log(1 + sd ** 2);
      return Math.round(perLog * (here - none + (only === undefined || share === only ? 0 : -90)));
    }),
  );

test('a pool that says nothing changes nothing', () => {
  const word = wordOf(pooled(silent(midwayPlaces.length)));
  expect(word.midway.mean).toBeCloseTo(0, 12);
  // The grid of places ends at three standard deviations, which takes a little off the variance of a bell.
  expect(word.midway.sd).toBeCloseTo(usual.midwaySd, 1);
  expect(word.loss).toEqual({ mean: 0, sd: usual.ownPressureSd });
  for (const factors of Object.values(word.shape))
    for (const factor of factors) expect(factor).toBeCloseTo(1, 12);
});

const nameOf = (share: number) => commonShares.find((one) => one.share === share)!.name;

describe('one share that explains all: the sums are those of two bells', () => {
  // S: the product of two normal densities (Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.5).
  test.each(commonShares)('share %o', ({ share }) => {
    const sd = 0.6;
    const { midway } = wordOf(
      pooled(
        numbers((of) => bell(1, sd, share)[nameOf(of)].map((v) => v + 500)),
        1e9,
      ),
    );
    const precision = 1 / share + 1 / sd ** 2;
    // The numbers are rounded to tenths of a logarithm.
    expect(Math.abs(midway.mean - 1 / sd ** 2 / precision)).toBeLessThan(0.02);
    expect(Math.abs(midway.sd - Math.sqrt(1 / precision + 1 - share))).toBeLessThan(0.02);
  });
});

test('all runners may be quicker than usual: a few of them say less than many', () => {
  const few = wordOf(pooled(bell(1, 0.2), 3)).midway;
  const many = wordOf(pooled(bell(1, 0.2), 300)).midway;
  expect(few.mean).toBeCloseTo(many.mean, 9);
  expect(few.sd).toBeGreaterThan(many.sd + 0.05);
});

test('a technique that is rated anew keeps its place on the scale of practice', () => {
  const of = pooled(bell(0.5, 0.1), 1e6, 4);
  const placed = (difficulty: number): number =>
    usual.midwayAtEasiest + usual.midwayPerStep * (difficulty - 1) + wordOf(of, difficulty).midway.mean;
  expect(Math.abs(placed(5) - placed(4))).toBeLessThan(0.15);
  expect(wordOf(of, 5).midway.mean).toBeLessThan(wordOf(of, 4).midway.mean - 0.4);
});

/** What runners say together each of whom found a technique so much later than rated, give or take `sd`. */
const found = (by: readonly number[], sd: number) =>
  numbers((share) =>
    midwayPlaces.map((place) =>
      by.reduce((sum, later) => {
        const log = (middle: number, variance: number): number =>
          (-0.5 * (later - middle) ** 2) / variance - 0.5 * Math.log(variance);
        return sum + Math.round(perLog * (log(place, 1 - share + sd ** 2) - log(0, 1 + sd ** 2)));
      }, 0),
    ),
  );

test('runners who find the same technique as hard have much in common, and runners who do not, nothing', () => {
  const wordsOf = (by: (technique: number, runner: number) => number) => {
    const told = Array.from({ length: 20 }, (_, technique) => {
      const runners = Array.from({ length: 8 }, (_, runner) => by(technique, runner));
      return { difficulty: 4, pooled: pooled(found(runners, 0.3), 8) };
    });
    return othersWords(told, usual);
  };
  const alike = wordsOf((technique) => (technique % 2 === 0 ? 1 : -1));
  alike.forEach(({ midway }, technique) => {
    expect(Math.abs(midway.mean - (technique % 2 === 0 ? 1 : -1))).toBeLessThan(0.1);
    expect(midway.sd).toBeLessThan(0.5);
  });
  for (const { midway } of wordsOf((_, runner) => (runner % 2 === 0 ? 1 : -1))) {
    expect(Math.abs(midway.mean)).toBeLessThan(0.05);
    expect(midway.sd).toBeGreaterThan(0.9);
  }
});

test('what lies in no grid, or in numbers beyond belief, is answered with finite numbers', () => {
  for (const value of [-1e6, 1e6]) {
    const lists = numbers(() => midwayPlaces.map((_, i) => (i % 2 === 0 ? value : 0)));
    for (const difficulty of [1, 10]) {
      const { midway } = wordOf(pooled(lists, 3, difficulty === 1 ? 10 : 1), difficulty);
      expect(Number.isFinite(midway.mean)).toBe(true);
      expect(midway.sd).toBeGreaterThan(0);
    }
  }
});

test('own tries outweigh any pool: 500 of them are told as counted', () => {
  // Fifty runners who could hardly land it after hours: a pool as sure as it gets that the technique comes late.
  const late = Array.from({ length: 50 }).reduce<ReturnType<typeof pooled>>(
    (sum) => combine(sum, pooled(bell(2.5, 0.5), 1)),
    pooled(bell(2.5, 0.5), 1),
  );
  const others = wordOf(late);
  const practice = [1, 2, 3, 4, 5].map((day) => block('kick', day, 80, 100, { minutes: 25, order: day }));
  const told = (withPool: boolean) =>
    assess({
      route: route([segment('a', 60, [use('kick', 3, 1)])], [technique('kick', withPool ? { others } : {})]),
      logs: { practice, runs: [] },
      asOfDay: 6,
      options: plainOptions,
    }).get('kick')!.practiceNow;
  expect(told(true).mean).toBeCloseTo(told(false).mean, 1);
  expect(told(true).low).toBeGreaterThan(0.7);
});
