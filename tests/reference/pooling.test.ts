import { expect, test } from 'vitest';
import { resolveConstants } from '../../server/src/model/core/constants.ts';
import { lossGrid } from '../../server/src/model/skill/evidence.ts';
import type { Evidence } from '../../server/src/model/skill/evidence.ts';
import { curveGrid } from '../../server/src/model/skill/curveGrid.ts';
import { midwayMean } from '../../server/src/model/skill/slotPrior.ts';
import { inferRunner, marginalWeights } from '../../server/src/model/skill/runnerPosterior.ts';

/*
 * S: data `sleepstudy` (Belenky et al. 2003) as in lme4 (Bates, Mächler, Bolker & Walker 2015, Journal of Statistical
 * Software 67): reaction time of 18 people on ten days. Below are each one's own least-squares intercepts and slopes,
 * worked out from the data. The fit as published: intercept 251.40510 (SE 6.825) and slope 10.46729 (SE 1.546), which
 * people differ in by standard deviations of 24.741 and 5.922; residuals 25.592.
 */
const intercepts = [
  244.1927, 205.0549, 203.4842, 289.6851, 285.739, 264.2516, 275.0191, 240.1629, 263.0347, 290.1041, 215.1118,
  225.8346, 261.147, 276.3721, 254.9681, 210.4491, 253.636, 267.0448,
];
const slopes = [
  21.7647, 2.2618, 6.1149, 3.0081, 5.266, 9.5668, 9.142, 12.2531, -2.881, 19.026, 13.4939, 19.504, 6.4335,
  13.5665, 11.3481, 18.0562, 9.1884, 11.2981,
];
const residual = 25.592;

/**
 * The mean that people share and its standard error, by the project's pooling of techniques over a runner: a person
 * stands for a technique, what was measured for its half-way point, the people's mean for the runner's offset.
 * `about` and `between` put the measurements on the grid; the wide prior of the offset is taken out again.
 */
function pooled(measured: readonly number[], error: number, between: number, about: number) {
  const constants = resolveConstants({ offsetSd: 3, midwaySd: 1 });
  const grid = curveGrid(constants);
  const losses = lossGrid(constants);
  const first = grid.slotFrom[grid.slots - 1]!;
  const slots = Int32Array.from({ length: grid.slots - first }, (_, i) => first + i);
  const width = error / between;
  const members = measured.map((value) => {
    const middle = 2 + (value - about) / between;
    const bySlot = new Float64Array(grid.slots);
    for (const slot of slots)
      bySlot[slot] = Math.exp(-0.5 * ((grid.slotMidway[slot]! - middle) / width) ** 2);
    const evidence: Evidence = {
      curves: new Int32Array(0),
      slots,
      practice: new Float64Array(0),
      runs: null,
      bySlot: grid.learnerShares.map(() => bySlot),
    };
    return { difficulty: 1, evidence };
  });
  const runner = inferRunner(members, grid, losses, constants);
  const weights = marginalWeights(runner, 'offset');
  let [mean, square] = [0, 0];
  weights.forEach((weight, i) => {
    mean += weight * runner.offsets[i]!;
    square += weight * runner.offsets[i]! ** 2;
  });
  const variance = square - mean ** 2;
  const free = 1 / (1 / variance - 1 / constants.offsetSd ** 2);
  const offset = (mean * free) / variance;
  return {
    mean: about + between * (midwayMean({ difficulty: 1 }, offset, constants) - 2),
    error: between * Math.sqrt(free),
  };
}

test('partial pooling of people: the published mean and standard error', () => {
  // Variance of a least-squares intercept and slope over days 0 to 9: sum of squares about the middle 82.5.
  const intercept = pooled(intercepts, residual * Math.sqrt(1 / 10 + 4.5 ** 2 / 82.5), 24.741, 240);
  expect(intercept.mean).toBeCloseTo(251.4051, 2);
  expect(intercept.error).toBeCloseTo(6.825, 2);
  const slope = pooled(slopes, residual / Math.sqrt(82.5), 5.922, 8);
  expect(slope.mean).toBeCloseTo(10.46729, 3);
  expect(slope.error).toBeCloseTo(1.546, 2);
});
