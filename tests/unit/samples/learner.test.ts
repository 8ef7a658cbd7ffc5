import { describe, expect, it } from 'vitest';
import { createLearner, curvesOfWren } from '../../../samples/simulation/learner.ts';
import { createRandom } from '../../../samples/simulation/random.ts';

function rateAfter(technique: string, attempts: number): number {
  const learner = createLearner();
  for (let i = 0; i < attempts; i += 1) learner.attempt(technique);
  return learner.rate(technique, 0);
}

describe('the simulated runner', () => {
  it('learns gradually along a saturating exponential with a ceiling', () => {
    // Outside value: 1 - e^-1 = 0.632 of the gap is closed after one time constant (M, any textbook).
    const closed = (rateAfter('lamp-clip', 1500) - 0.03) / (0.6 - 0.03);
    expect(closed).toBeCloseTo(0.632, 2);
    expect(rateAfter('lamp-clip', 100_000)).toBeCloseTo(0.6, 6);
  });

  it('stays on a plateau and then comes quickly', () => {
    expect(rateAfter('chimney-kick', 0)).toBe(rateAfter('chimney-kick', 1300));
    expect(rateAfter('chimney-kick', 1700)).toBeGreaterThan(0.5);
  });

  it('slips with one technique in the last week only', () => {
    const learner = createLearner();
    expect(learner.rate('net-climb', 34)).toBe(0.86);
    expect(learner.rate('net-climb', 35)).toBe(0.1);
  });

  it('never gets worse by practising', () => {
    for (const technique of Object.keys(curvesOfWren)) {
      const learner = createLearner();
      const rates = Array.from({ length: 3000 }, () => {
        learner.attempt(technique);
        return learner.rate(technique, 0);
      });
      expect(
        rates.some((rate, index) => rate < (rates[index - 1] ?? 0)),
        technique,
      ).toBe(false);
    }
  });
});

describe('the seeded source of chance', () => {
  it('gives the numbers of the published generator', () => {
    // S: the generator's steps as published by its author, worked out apart from this code, in Python.
    const random = createRandom(1);
    const first = [random.next(), random.next(), random.next()];
    expect(first.map((value) => value * 4294967296)).toEqual([2693262067, 11749833, 2265367787]);
  });

  it('has mean 0 and standard deviation 1 in its skewed noise, with a longer right tail', () => {
    const random = createRandom(7);
    const values = Array.from({ length: 40_000 }, random.skewed);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const moment = (power: number): number =>
      values.reduce((sum, value) => sum + (value - mean) ** power, 0) / values.length;
    // Four standard errors: 4 / sqrt(40,000) = 0.02; for the variance about 0.03.
    expect(Math.abs(mean)).toBeLessThan(0.02);
    expect(Math.abs(moment(2) - 1)).toBeLessThan(0.03);
    expect(moment(3)).toBeGreaterThan(0.05);
  });

  it('stays inside the asked bounds', () => {
    const random = createRandom(3);
    const whole = Array.from({ length: 2000 }, () => random.whole(2, 5));
    expect([...new Set(whole)].sort()).toEqual([2, 3, 4, 5]);
    for (let i = 0; i < 2000; i += 1) {
      const value = random.between(0.7, 0.93);
      expect(value >= 0.7 && value < 0.93).toBe(true);
    }
  });
});
