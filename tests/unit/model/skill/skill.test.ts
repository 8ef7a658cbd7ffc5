import { expect, test } from 'vitest';
import { chanceRunRateAbove, expectationInRun, expectationFunction, meanPracticeRate, practiceEstimate, practiceLogits, runEstimate } from '../../../../server/src/model/skill/rateEstimates.ts'; // prettier-ignore
import { practiceRates } from '../../../helpers/practiceRates.ts';
import { logBetaBinomial } from '../../../../server/src/model/skill/countLikelihood.ts';
import { logistic, logit } from '../../../../server/src/model/core/numbers.ts';
import { practiceLevel } from '../../../../server/src/model/skill/practiceState.ts';
import { block, runTries, technique } from '../../../helpers/invented.ts';
import { inferSkills } from '../../../helpers/skills.ts';

const bell = (x: number, mean: number, variance: number): number =>
  Math.exp((-0.5 * (x - mean) ** 2) / variance);

/** Log likelihood of a day's count; days differ by the same amount in log odds at every rate. */
function logOfDay(
  { landed, tries }: { readonly landed: number; readonly tries: number },
  mean: number,
): number {
  return logBetaBinomial(landed, tries, mean, 10 / (mean * (1 - mean)));
}

const practice = [
  block('kick', 0, 5, 60, { minutes: 6 }),
  block('kick', 2, 20, 60, { minutes: 6, order: 1 }),
  block('kick', 3, 33, 60, { minutes: 6, order: 2 }),
];
const runs = [runTries('kick', 4, 1, 6), runTries('kick', 5, 2, 5)];

test('one technique alone: the posterior is the plain double sum over curves and losses', () => {
  const { members, grid, posteriors, rates, constants } = inferSkills([technique('kick')], practice, runs);
  const { history } = members[0]!;
  const at = practiceLevel(history.state.effective, constants);
  // With one technique, offset and pressure only widen the normal priors: c ~ N(m, 1 + 0.49), loss ~ N(0.4, 0.16 + 0.49).
  const middle = 0.3 + 0.55 * 3;
  const days = history.days.map((day) => ({ day, p: practiceRates(grid, day.readings[0]!.level) }));
  const now = practiceRates(grid, at);
  let total = 0;
  let inPractice = 0;
  let inRun = 0;
  for (let i = 0; i < grid.curves; i++) {
    const slot = grid.curveSlot[i]!;
    const weight = grid.curveWeight[i]! * bell(grid.slotMidway[slot]!, middle, 1.49) * (slot < 61 ? 2 : 1);
    for (let loss = -3.2; loss < 4; loss += 0.1) {
      let log = 0;
      for (const { day, p } of days) {
        const mean = day.inRun ? logistic(logit(p[i]!) - loss) : p[i]!;
        log += logOfDay(day, Math.min(1 - 1e-4, Math.max(1e-4, mean)));
      }
      const joint = weight * bell(loss, 0.4, 0.65) * Math.exp(log);
      total += joint;
      inPractice += joint * now[i]!;
      inRun += joint * logistic(logit(now[i]!) - loss);
    }
  }
  const x = practiceLogits(posteriors[0]!, at);
  expect(meanPracticeRate(posteriors[0]!, x)).toBeCloseTo(inPractice / total, 3);
  expect(expectationInRun(posteriors[0]!, x, rates)).toBeCloseTo(inRun / total, 3);
});

test('partial pooling: what one technique shows moves one never tried as the joint normal prior says', () => {
  const both = [technique('kick', { difficulty: 4 }), technique('hop', { difficulty: 6 })];
  const { members, grid, posteriors } = inferSkills(both, practice, []);
  const at = 3;
  const rates = practiceRates(grid, at);
  const days = members[0]!.history.days.map((day) => ({
    day,
    p: practiceRates(grid, day.readings[0]!.level),
  }));
  // Likelihood of the first by its half-way point and mean rate of the second by its own, then the joint prior:
  // variances 1 + 0.49 each, covariance 0.49.
  // Both are of the runner's kind of learner, so everything is summed for each kind.
  const kinds = [...grid.learnerShares.keys()];
  const seen = new Map<number, number[]>();
  const rate = new Map<number, number[]>();
  for (let i = 0; i < grid.curves; i++) {
    const slot = grid.curveSlot[i]!;
    const c = grid.slotMidway[slot]!;
    if (Math.abs(c * 4 - Math.round(c * 4)) > 1e-9) continue;
    let log = 0;
    for (const { day, p } of days) log += logOfDay(day, p[i]!);
    const own = seen.get(c) ?? kinds.map(() => 0);
    const others = rate.get(c) ?? kinds.map(() => 0);
    for (const kind of kinds) {
      const weight = grid.learnerWeights[kind]![i]!;
      own[kind]! += weight * Math.exp(log);
      others[kind]! += weight * rates[i]!;
    }
    seen.set(c, own);
    rate.set(c, others);
  }
  const determinant = 1.49 ** 2 - 0.49 ** 2;
  let total = 0;
  let sum = 0;
  for (const [c1, likelihoods] of seen) {
    for (const [c2, means] of rate) {
      const [a, b] = [c1 - (0.3 + 0.55 * 3), c2 - (0.3 + 0.55 * 5)];
      const prior = Math.exp((-0.5 * (1.49 * a * a - 0.98 * a * b + 1.49 * b * b)) / determinant);
      for (const kind of kinds) {
        const joint = grid.learnerShares[kind]! * likelihoods[kind]! * prior;
        total += joint;
        sum += joint * means[kind]!;
      }
    }
  }
  const pooled = meanPracticeRate(posteriors[1]!, practiceLogits(posteriors[1]!, at));
  // What is believed of the runner is rounded to a 24th of a logit on its way from one technique to another.
  expect(Math.abs(pooled - sum / total)).toBeLessThan(3e-3);
});

test('a finer grid gives the same answers', () => {
  const usual = inferSkills([technique('kick')], practice, runs);
  const fine = inferSkills([technique('kick')], practice, runs, { midwayStep: 0.0625, lossStep: 0.1 });
  const show = ({ posteriors, rates }: typeof usual) => {
    const x = practiceLogits(posteriors[0]!, 4);
    return [practiceEstimate(posteriors[0]!, x), runEstimate(posteriors[0]!, x, rates)];
  };
  const exact = show(fine);
  show(usual).forEach((estimate, i) => {
    expect(estimate.mean).toBeCloseTo(exact[i]!.mean, 3);
    expect(estimate.low).toBeCloseTo(exact[i]!.low, 1.9);
    expect(estimate.high).toBeCloseTo(exact[i]!.high, 1.9);
  });
});

test('both ways of taking expectations agree', () => {
  const { posteriors, rates } = inferSkills([technique('kick'), technique('hop')], practice, runs);
  for (const posterior of posteriors) {
    const fast = expectationFunction(posterior, rates);
    for (const at of [0, 1.7, 5]) {
      const x = practiceLogits(posterior, at);
      expect(fast(x)).toBeCloseTo(expectationInRun(posterior, x, rates), 3);
    }
  }
});

test('chances and quantiles of the landing rate in a run belong together', () => {
  const { posteriors, rates } = inferSkills([technique('kick')], practice, runs);
  const x = practiceLogits(posteriors[0]!, 3);
  const { low, mean, high } = runEstimate(posteriors[0]!, x, rates);
  expect(low).toBeLessThan(mean);
  expect(mean).toBeLessThan(high);
  expect(chanceRunRateAbove(posteriors[0]!, x, logit(low))).toBeCloseTo(0.9, 3);
  expect(chanceRunRateAbove(posteriors[0]!, x, logit(high))).toBeCloseTo(0.1, 3);
  expect(chanceRunRateAbove(posteriors[0]!, x, -Infinity)).toBe(1);
  expect(chanceRunRateAbove(posteriors[0]!, x, Infinity)).toBe(0);
});

test('six techniques at 80 % in practice, five at 75 % in runs and one at 25 %: the one is seen, the rest not dragged', () => {
  const six = ['a', 'b', 'c', 'd', 'e', 'f'].map((id) => technique(id));
  const days = [0, 1, 2, 3, 4, 5, 6, 7];
  const blocks = six.flatMap((t) => days.map((day) => block(t.id, day, 80, 100, { minutes: 10 })));
  const tries = (last: number) =>
    six.flatMap((t) => days.map((day) => runTries(t.id, day, t.id === 'f' ? last : 15, 20)));
  const odd = inferSkills(six, blocks, tries(5));
  const even = inferSkills(six, blocks, tries(15));
  const inRun = ({ posteriors, rates, members, constants }: typeof odd): number[] =>
    posteriors.map((posterior, i) =>
      expectationInRun(
        posterior,
        practiceLogits(posterior, practiceLevel(members[i]!.history.state.effective, constants)),
        rates,
      ),
    );
  const seen = inRun(odd);
  const without = inRun(even);
  expect(seen[5]).toBeGreaterThan(0.2);
  expect(seen[5]).toBeLessThan(0.36);
  for (let i = 0; i < 5; i++) {
    expect(seen[i]).toBeGreaterThan(0.7);
    expect(Math.abs(seen[i]! - without[i]!)).toBeLessThan(0.02);
  }
});

test('logs that contradict each other and ten thousand attempts a day give finite answers', () => {
  const days = Array.from({ length: 40 }, (_, i) => i);
  const easy = days.map((day) => block('kick', day, 9999, 10000, { minutes: 600 }));
  const never = days.map((day) => runTries('kick', day, 0, 500));
  const { posteriors, rates, runner } = inferSkills([technique('kick', { difficulty: 10 })], easy, never);
  const x = practiceLogits(posteriors[0]!, 5);
  for (const value of [
    ...Object.values<number>({ ...runEstimate(posteriors[0]!, x, rates) }),
    ...runner.weights,
  ]) {
    expect(Number.isFinite(value)).toBe(true);
  }
  expect(runEstimate(posteriors[0]!, x, rates).mean).toBeLessThan(0.5);
});
