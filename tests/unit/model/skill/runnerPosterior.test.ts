import { expect, test } from 'vitest';
import { practiceEstimate, practiceLogits } from '../../../../server/src/model/skill/rateEstimates.ts';
import { logistic, logit } from '../../../../server/src/model/core/numbers.ts';
import { dose, practiceLevel } from '../../../../server/src/model/skill/practiceState.ts';
import { marginalWeights, runnerEstimate } from '../../../../server/src/model/skill/runnerPosterior.ts';
import type { PracticeEntry, RunEntry } from '../../../../server/src/model/core/types.ts';
import { block, runTries, seeded, technique } from '../../../helpers/invented.ts';
import { inferSkills } from '../../../helpers/skills.ts';

test('without logs the runner is the prior', () => {
  const { runner } = inferSkills([technique('kick')], [], []);
  const offset = runnerEstimate(runner, 'offset');
  const pressure = runnerEstimate(runner, 'pressure');
  // 1.2816: the 90 % point of the standard normal (S, any table).
  expect(offset.mean).toBeCloseTo(0, 6);
  expect(offset.high).toBeCloseTo(1.2816 * 0.7, 2);
  expect(pressure.mean).toBeCloseTo(0.4, 6);
  expect(pressure.low).toBeCloseTo(0.4 - 1.2816 * 0.4, 2);
  expect(runner.weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
  expect(marginalWeights(runner, 'offset').length).toBe(runner.offsets.length);
});

test('many techniques that come early show in the offset, and losses in runs in the pressure', () => {
  const many = Array.from({ length: 40 }, (_, i) => technique(`t${i}`, { difficulty: 5 }));
  const blocks = many.flatMap((t) => [0, 1, 2].map((day) => block(t.id, day, 70, 100, { minutes: 10 })));
  const tries = many.flatMap((t) => [1, 2, 3].map((day) => runTries(t.id, day, 3, 20)));
  const { runner } = inferSkills(many, blocks, tries);
  const offset = runnerEstimate(runner, 'offset');
  const pressure = runnerEstimate(runner, 'pressure');
  expect(offset.low).toBeGreaterThan(0.5);
  expect(pressure.low).toBeGreaterThan(0.7);
  // Less than half as wide as the prior's 80 % interval.
  expect(offset.high - offset.low).toBeLessThan(1.2816 * 0.7);
});

test('80 % intervals of the landing rate cover about 80 % of simulated runners', () => {
  const random = seeded(20240);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const pick = (values: readonly number[], weights: readonly number[]): number => {
    let left = random();
    return values.find((_, i) => (left -= weights[i]!) < 0) ?? values.at(-1)!;
  };
  let covered = 0;
  let asked = 0;
  for (let person = 0; person < 80; person++) {
    const offset = 0.7 * normal();
    const pressure = 0.4 + 0.4 * normal();
    const difficulties = [2, 4, 6, 8];
    const practice: PracticeEntry[] = [];
    const runs: RunEntry[] = [];
    const { constants } = inferSkills([], [], []);
    const truth = difficulties.map((d, i) => {
      const c = 0.3 + 0.55 * (d - 1) - offset + normal();
      const s = pick([0.6, 0.9, 1.3, 2, 3], [0.2, 0.35, 0.2, 0.15, 0.1]);
      const h = pick([1, 0.9, 0.78], [1 / 3, 1 / 3, 1 / 3]);
      const f = pick([0, 0.06], [0.6, 0.4]);
      const rate = (at: number): number => f + (h - f) * logistic(s * (at - c));
      const loss = pressure + 0.7 * normal();
      // Four days of one block, then a few tries in runs; a day's own rate is beta distributed around the mean.
      let effective = 0;
      const draw = (mean: number, n: number): number => {
        let [ones, all] = [0, 0];
        const [a, b] = [40 * mean, 40 * (1 - mean)];
        // Polya's urn: each draw adds one of its kind, which is the beta-binomial.
        for (let k = 0; k < n; k++, all++) if (random() < (a + ones) / (a + b + all)) ones++;
        return ones;
      };
      for (let day = 0; day < 4; day++) {
        const added = dose(80, 10, 0, constants);
        const landed = draw(rate(practiceLevel(effective + added / 2, constants)), 80);
        practice.push(block(`t${i}`, day, landed, 80, { minutes: 10 }));
        effective += added * 1.2;
      }
      const inRun = logistic(
        logit(Math.min(0.9999, Math.max(1e-4, rate(practiceLevel(effective + 5, constants))))) - loss,
      );
      runs.push(runTries(`t${i}`, 4, draw(inRun, 10), 10));
      return rate(3);
    });
    const techniques = difficulties.map((difficulty, i) => technique(`t${i}`, { difficulty }));
    const { posteriors } = inferSkills(techniques, practice, runs);
    posteriors.forEach((posterior, i) => {
      const { low, high } = practiceEstimate(posterior, practiceLogits(posterior, 3));
      asked++;
      if (truth[i]! >= low && truth[i]! <= high) covered++;
    });
  }
  // Four standard errors of a binomial share, widened by half since one runner's techniques are not independent.
  const band = 6 * Math.sqrt((0.8 * 0.2) / asked);
  expect(Math.abs(covered / asked - 0.8)).toBeLessThan(band);
});
