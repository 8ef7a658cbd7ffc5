import quantile from '@stdlib/stats-base-dists-beta-quantile';
import { describe, expect, test } from 'vitest';
import { learnerKinds } from '../../server/src/model/skill/learnerKinds.ts';
import { bandsBetween } from '../../server/src/model/skill/curveShapes.ts';
import { curveGrid } from '../../server/src/model/skill/curveGrid.ts';
import { assess, defaultConstants, rank } from '../../server/src/model/index.ts';
import type { RankInput } from '../../server/src/model/index.ts';
import { prepareModel } from '../../server/src/model/run/preparedModel.ts';
import { chance } from '../arena/random.ts';
import { kinds } from '../arena/truth/kinds.ts';
import { fresh } from '../arena/truth/truth.ts';
import type { Skill } from '../arena/world.ts';
import { block, plainOptions, route, segment, technique, use } from '../helpers/invented.ts';
import { fitScaled } from '../helpers/leastSquares.ts';

describe('four learners, passed or failed at each of 250 attempts', () => {
  // S: data set `anstrain` of the R package TEfits (Cochrane 2020, Journal of Open Source Software; MIT): successes.
  // Three of the four give an exponential no inner best fit: what 250 attempts leave open must show as a margin.
  const learners = [184, 191, 196, 207];
  const tries = 250;
  const logged = (landed: number): RankInput => ({
    route: route([segment('a', 60, [use('kick', 3, 1)])], [technique('kick')]),
    logs: { practice: [block('kick', 1, landed, tries, { minutes: 20 })], runs: [] },
    asOfDay: 2,
    options: plainOptions,
  });

  test('the landing rate has at least the margin of so many even throws, and a better count a better rate', () => {
    const now = learners.map((landed) => assess(logged(landed)).get('kick')!.practiceNow);
    learners.forEach((landed, i) => {
      // S: Jeffreys interval (Brown, Cai & DasGupta 2001) by an independent beta quantile.
      const even = [0.1, 0.9].map((p) => quantile(p, landed + 0.5, tries - landed + 0.5));
      expect(now[i]!.high - now[i]!.low).toBeGreaterThan(even[1]! - even[0]!);
      if (i > 0) expect(now[i]!.mean).toBeGreaterThan(now[i - 1]!.mean);
    });
  });

  test('where the curve levels off stays open, and so does what more practice brings', () => {
    const grid = curveGrid(defaultConstants);
    for (const landed of learners) {
      const input = logged(landed);
      const { curves, mass } = prepareModel(input).fittedTechniques.get('kick')!.posterior;
      const bands = bandsBetween(defaultConstants.ceilings);
      const shares = bands.map(() => 0);
      const kinds = learnerKinds(defaultConstants);
      curves.forEach((curve, i) => {
        shares[grid.ceilingBand[curve]!]! += mass[i]!;
      });
      // A ceiling below the share that landed is all that such a count can rule out: the others keep three tenths of their
      // weight or more.
      bands.forEach(({ from }, band) => {
        const before = kinds.reduce((sum, kind) => sum + kind.share * kind.ceilings[band]!, 0);
        if (from > landed / tries) expect(shares[band]).toBeGreaterThan(0.3 * before);
      });
      const [row] = rank({ ...input, options: { ...input.options, all: true } }).rows;
      expect(row!.runThen.high - row!.runThen.low).toBeGreaterThan(0.25);
    }
  });
});

test('the simulated runners include single learners that are exponentials, whose average looks like a power law', () => {
  // S: Heathcote, Brown & Mewhort 2000, Psychonomic Bulletin & Review 7: single learners follow an exponential better
  // than a power law; power laws are what averages over them look like. The model's own curves are not exponentials.
  const skill: Skill = {
    ...{ id: 'kick', difficulty: 4, written: 4, saves: 3, loses: 1, endsRun: false, needs: [] },
    ...{ attempt: 4, reload: 1, segments: [0], known: false },
  };
  const attempts = Array.from({ length: 40 }, (_, i) => 100 * (i + 1));
  const missed = Array.from({ length: 400 }, (_, seed) => {
    const [learning] = kinds['saturating']!.make([skill], chance(seed)).learnings;
    return attempts.map((n) => 1 - learning!.rate({ ...fresh, gained: n }));
  });
  const fits = (y: readonly number[]) => ({
    power: fitScaled(attempts, y, (exponent, n) => n ** -exponent, [0.01, 5], true).residuals,
    exponential: fitScaled(attempts, y, (scale, n) => Math.exp(-n / scale), [5, 50_000], true).residuals,
  });
  // Who has levelled off before the first of these attempts shows neither.
  const learning = missed.filter((y) => y[0]! - y.at(-1)! > 0.01).map(fits);
  expect(learning.length).toBeGreaterThan(200);
  for (const { power, exponential } of learning) expect(exponential).toBeLessThan(power / 100);
  const average = fits(attempts.map((_, i) => missed.reduce((sum, y) => sum + y[i]!, 0) / missed.length));
  expect(average.power).toBeLessThan(average.exponential);
});
