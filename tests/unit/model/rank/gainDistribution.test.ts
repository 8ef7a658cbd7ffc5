import { expect, test } from 'vitest';
import {
  chancesOfMaximum,
  gainRange,
  gainRows,
  gainDistributionGivenRunner,
  logBins,
} from '../../../../server/src/model/rank/gainDistribution.ts';
import { quadratureNodes } from '../../../../server/src/model/skill/quadratureNodes.ts'; // prettier-ignore
import { expectationInRun, practiceLogits } from '../../../../server/src/model/skill/rateEstimates.ts';
import { marginalWeights } from '../../../../server/src/model/skill/runnerPosterior.ts';
import { interpolateTable, tabulate } from '../../../../server/src/model/core/rateTable.ts';
import { block, seeded, technique } from '../../../helpers/invented.ts';
import { inferSkills } from '../../../helpers/skills.ts';

const worth = tabulate((rate) => Math.max(0, rate * 5 - 2), 1e-4);
const skills = inferSkills([technique('kick')], [block('kick', 0, 30, 100, { minutes: 10 })], []);
const posterior = skills.posteriors[0]!;
const idle = practiceLogits(posterior, 2);
const practised = practiceLogits(posterior, 4);

test('drops average to the difference of the expectations', () => {
  const drops = gainRows(posterior, idle, practised, worth);
  const width = posterior.losses.count;
  let mean = 0;
  drops.forEach((drop, at) => {
    const i = Math.floor(at / width);
    mean += posterior.weight[i]! * posterior.rows[posterior.row[i]! * width + (at % width)]! * drop;
  });
  expect(mean).toBeCloseTo(
    expectationInRun(posterior, practised, worth) - expectationInRun(posterior, idle, worth),
    9,
  );
});

test('the 10 and 90 % points agree with drawing from the posterior', () => {
  const drops = gainRows(posterior, idle, practised, worth);
  const { low, high } = gainRange(posterior, drops);
  const random = seeded(11);
  const width = posterior.losses.count;
  const seen: number[] = [];
  for (let draw = 0; draw < 4000; draw++) {
    let left = random();
    let i = 0;
    while (i < posterior.mass.length - 1 && (left -= posterior.mass[i]!) > 0) i++;
    const row = posterior.rows.subarray(posterior.row[i]! * width, (posterior.row[i]! + 1) * width);
    left = random() * row.reduce((a, b) => a + b, 0);
    let j = 0;
    while (j < width - 1 && (left -= row[j]!) > 0) j++;
    const loss = posterior.losses.from + j * posterior.losses.step;
    seen.push(interpolateTable(worth, practised[i]! - loss) - interpolateTable(worth, idle[i]! - loss));
  }
  const share = (point: number): number => seen.filter((drop) => drop <= point).length / seen.length;
  // Tolerance: four standard errors of a share of 4,000 draws, plus the steps of the grid.
  const below = (point: number): number => seen.filter((drop) => drop < point).length / seen.length;
  for (const [point, level] of [
    [low, 0.1],
    [high, 0.9],
  ] as const) {
    // prettier-ignore
    // Many drops are exactly 0: a point may hold more than its share, but not less, and not too much below it.
    expect(share(point)).toBeGreaterThan(level - 0.03);
    expect(below(point)).toBeLessThan(level + 0.03);
  }
});

test('drops given the runner, averaged over the runner, are the drops', () => {
  const drops = gainRows(posterior, idle, practised, worth);
  const { runner } = skills;
  const nodes = quadratureNodes(marginalWeights(runner, 'offset'), marginalWeights(runner, 'pressure'));
  const bins = logBins(3, 16);
  const given = gainDistributionGivenRunner(posterior, { difficulty: 4 }, drops, 1, runner, nodes, bins);
  const width = posterior.losses.count;
  const direct = new Map<string, number>();
  drops.forEach((drop, at) => {
    const i = Math.floor(at / width);
    const mass = posterior.weight[i]! * posterior.rows[posterior.row[i]! * width + (at % width)]!;
    const key = drop >= 3 / 10 ? 'much' : 'little';
    direct.set(key, (direct.get(key) ?? 0) + mass);
  });
  // The bin edge at a tenth of the top lies one decade, 16 bins, below it.
  let much = 0;
  let total = 0;
  nodes.rows.forEach((row, r) => {
    nodes.columns.forEach((column, c) => {
      const weight = runner.weights[row * runner.pressures.length + column]!;
      total += weight;
      const from = (r * nodes.columns.length + c) * bins.count;
      for (let bin = bins.count - 16; bin < bins.count; bin++) much += weight * given[from + bin]!;
    });
  });
  expect(much / total).toBeCloseTo(direct.get('much')!, 2);
});

test('the chance to be the greatest: equal ones share alike, all sum to one', () => {
  const even = Float64Array.of(0.2, 0.3, 0.5);
  expect([...chancesOfMaximum([even, even, even], 0, 3)].map((c) => c.toFixed(6))).toEqual(
    Array(3).fill('0.333333'),
  );
  const sure = Float64Array.of(0, 0, 1);
  const never = Float64Array.of(1, 0, 0);
  expect([...chancesOfMaximum([never, sure], 0, 3)]).toEqual([0, expect.closeTo(1, 9) as number]);
  const a = Float64Array.of(0.5, 0, 0.5);
  const b = Float64Array.of(0, 1, 0);
  expect(chancesOfMaximum([a, b], 0, 3)[0]).toBeCloseTo(0.5, 9);
});
