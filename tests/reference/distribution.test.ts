import { expect, test } from 'vitest';
import {
  advanceThroughSegment,
  startOfRun,
  finalTimeDistribution,
  toTimeDistribution,
} from '../../server/src/model/run/timeDistribution.ts';
import { chanceUnder, massAndMean, quantileOf } from '../../server/src/model/run/timeStatistics.ts';
import type { SegmentPlan } from '../../server/src/model/run/runPlan.ts';
import { seeded, segment, use } from '../helpers/invented.ts';
import { atoms, deviation, playAll } from '../helpers/runPlans.ts';

/** The normal distribution's share below z, by its power series; good to 1e-12 for |z| up to 6. */
function normalBelow(z: number): number {
  let term = z;
  let sum = z;
  for (let n = 1; n < 200; n++) {
    term *= (z * z) / (2 * n + 1);
    sum += term;
  }
  return 0.5 + (sum * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI);
}

/** E[(X − x)+] of a lognormal. */
function excess(mu: number, sigma: number, x: number): number {
  const z = (mu - Math.log(x)) / sigma;
  return Math.exp(mu + (sigma * sigma) / 2) * normalBelow(z + sigma) - x * normalBelow(z);
}

/** A lognormal as one step of a plan: the mass between two points split so that the mean is kept. */
function lognormal(mu: number, sigma: number, step: number): SegmentPlan {
  const low = Math.floor(Math.exp(mu - 5 * sigma) / step);
  const high = Math.ceil(Math.exp(mu + 5 * sigma) / step);
  const points = Array.from({ length: high - low + 1 }, (_, i) => low + i);
  const over = [low - 1, ...points, high + 1].map((i) => excess(mu, sigma, i * step));
  const chances = points.map((_, i) => Math.max(0, (over[i]! - 2 * over[i + 1]! + over[i + 2]!) / step));
  const noise = { stages: 0, keep: 0, origin: 0, mean: 0, spread: 0, reach: 1 };
  const steps = [{ needs: 0, shifts: [{ gives: 0, points, chances }] }];
  const all = { clock: new Map([[0, 0]]), through: new Map([[0, 1]]) };
  return { id: 'x', noise, steps, survive: 1, keptItems: 0, itemSets: [[0], [0]], ...all };
}

test('the sum of two lognormals against Fenton and Wilkinson', () => {
  // S (formula): Fenton 1960, IRE Trans. Commun. Syst. 8: μ = ln 110, ln 100, σ = .25, .15 give
  // μ 5.3574715, σ .1510767, the lognormal of the same mean and variance.
  const step = 0.5;
  const first = advanceThroughSegment(startOfRun, lognormal(Math.log(110), 0.25, step));
  const times = toTimeDistribution(advanceThroughSegment(first, lognormal(Math.log(100), 0.15, step)), {
    step,
    scatters: true,
  });
  const { mean } = massAndMean(times);
  const sigma = Math.sqrt(Math.log1p((deviation(times) / mean) ** 2));
  // Tolerance 3e-5: tails cut at five σ take 1e-6 of the mass, a grid of 0.5 s adds 0.04 s² to a variance of 1,030.
  expect(Math.abs(Math.log(mean) - (sigma * sigma) / 2 - 5.3574715)).toBeLessThan(3e-5);
  expect(Math.abs(sigma - 0.1510767)).toBeLessThan(3e-5);
  // The sum is not itself lognormal: Fenton and Wilkinson's quantiles are off by up to 0.7 % in the tails.
  for (const [level, z] of [
    [0.05, -1.6448536],
    [0.25, -0.6744898],
    [0.5, 0],
    [0.75, 0.6744898],
    [0.95, 1.6448536],
  ] as const) {
    const wilkinson = Math.exp(5.3574715 + 0.1510767 * z);
    expect(Math.abs(quantileOf(times, level) / wilkinson - 1)).toBeLessThan(0.01);
  }
  // A million sums drawn one by one say which of the two is right: four of their own standard errors.
  const random = seeded(1960);
  const levels = [0.05, 0.25, 0.5, 0.75, 0.95];
  const limits = levels.map((level) => quantileOf(times, level));
  const under = levels.map(() => 0);
  const count = 1e6;
  for (let n = 0; n < count; n++) {
    // Two normals at a time (Box and Muller).
    const far = Math.sqrt(-2 * Math.log(1 - random()));
    const turn = 2 * Math.PI * random();
    const sum = 110 * Math.exp(0.25 * far * Math.cos(turn)) + 100 * Math.exp(0.15 * far * Math.sin(turn));
    limits.forEach((limit, i) => {
      if (sum < limit) under[i]!++;
    });
  }
  levels.forEach((level, i) => {
    expect(Math.abs(under[i]! / count - level)).toBeLessThan(4 * Math.sqrt((level * (1 - level)) / count));
  });
});

test('Poisson-binomial chances of how many techniques land', () => {
  // S: R package PoissonBinomial, p = .1, .2, .3, .4, .5; four places.
  const published = [0.1512, 0.3714, 0.3274, 0.1274, 0.0214, 0.0012];
  const rates = { t1: 0.1, t2: 0.2, t3: 0.3, t4: 0.4, t5: 0.5 };
  const segments = Object.keys(rates).map((id) => segment(`s-${id}`, 20, [use(id, 1, 0)], { spread: 0 }));
  const landed = atoms(playAll(segments, rates).times).map(([, chance]) => chance);
  expect(landed).toHaveLength(6);
  // Fastest first, so all five landed first.
  landed.reverse().forEach((chance, count) => {
    expect(Math.abs(chance - published[count]!)).toBeLessThan(5.1e-5);
  });
});

test('equal scatters add up to a gamma', () => {
  // S (formula): the sum of n gammas of shape 4 and one scale is a gamma of shape 4n; for a whole shape its share
  // below x is 1 − e^−x · Σ x^i/i!, i < 4n (Erlang).
  const n = 10;
  const spread = 1.6;
  const segments = Array.from({ length: n }, (_, s) => segment(`s${s}`, 60, [], { spread }));
  const times = finalTimeDistribution(playAll(segments).plan);
  const scale = spread / 2;
  for (const target of [580, 590, 600, 610, 625]) {
    const x = (target - (600 - n * 2 * spread)) / scale;
    let [term, sum] = [1, 1];
    for (let i = 1; i < 4 * n; i++) {
      term *= x / i;
      sum += term;
    }
    // Tolerance: 2e-4, what a grid of 0.1 s makes of a scale of 0.8 s.
    expect(Math.abs(chanceUnder(times, target) - (1 - Math.exp(-x) * sum))).toBeLessThan(2e-4);
  }
});
