import fc from 'fast-check';
import { expect, test } from 'vitest';
import { finalTimeDistribution } from '../../../../server/src/model/run/timeDistribution.ts';
import { neverReset, playUnderLine } from '../../../../server/src/model/run/resetLine.ts';
import { outcomesOf } from '../../../../server/src/model/run/outcomes.ts';
import {
  chanceUnder,
  expectedBest,
  massAndMean,
  quantileOf,
} from '../../../../server/src/model/run/timeStatistics.ts';
import { RunState, optionEffect } from '../../../../server/src/model/run/runState.ts';
import { planRun } from '../../../../server/src/model/run/runPlan.ts';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import { seeded, segment, use } from '../../../helpers/invented.ts';
import { playRun } from '../../../helpers/playedRuns.ts';
import { anyRoute, atoms, deviation, ends, playAll } from '../../../helpers/runPlans.ts';

const still = { spread: 0 };

test('by hand: a landing, a miss, luck and a death', () => {
  const luck = [{ chance: 0.25, adds: 2 }];
  const { times } = playAll([segment('a', 10, [use('kick', 3, 1)], { ...still, survive: 0.8, luck })], {
    kick: 0.6,
  });
  expect(atoms(times)).toEqual([
    [7, 0.36],
    [9, 0.12],
    [11, 0.24],
    [13, 0.08],
  ]);
});

test('by hand: tried again, several ways to miss, one of which ends the run', () => {
  const misses = [
    { chance: 0.5, loses: 4, endsRun: false },
    { chance: 0.25, loses: 6, endsRun: false },
    { chance: 0.25, loses: 0, endsRun: true },
  ];
  const swing = use('swing', 5, 0, { misses, retrySeconds: 1, maxTries: 2 });
  const { times } = playAll([segment('a', 20, [swing], still)], { swing: 0.5 });
  // Lands at once .5; a miss that goes on .375; lands then .1875; the last miss goes on .140625, two to one.
  expect(atoms(times)).toEqual([
    [15, 0.5],
    [16, 0.1875],
    [25, 0.09375],
    [27, 0.046875],
  ]);
});

test('by hand: a backup after a miss, and a range of savings', () => {
  const clip = use('clip', 8, 3, { spot: 'gate', backup: 'hop' });
  const hop = use('hop', 2, 1, { spot: 'gate' });
  const model = [segment('a', 20, [clip, hop], still)];
  const { layout, model: route, rateOf } = playAll(model, { clip: 0.5, hop: 0.5 });
  const played = Int32Array.of(1);
  const { plan } = planRun(route, layout, { played, rateOf });
  expect(atoms(finalTimeDistribution(plan))).toEqual([
    [12, 0.5],
    [21, 0.25],
    [24, 0.25],
  ]);
  const wide = playAll([segment('a', 20, [use('clip', 8, 3, { saves: { mean: 8, sd: 2 } })], still)], {
    clip: 1,
  });
  expect(massAndMean(wide.times).mean).toBeCloseTo(12, 9);
  // Mass off the grid goes to both neighbours, which adds at most a quarter of a squared step.
  expect(deviation(wide.times)).toBeCloseTo(2, 2);
});

test('by hand: an item is in hand only where its technique landed, and what it opens is tried only then', () => {
  const segments = [
    segment('a', 10, [use('oil', 0, 0, { take: 'oil', costs: 1 })], still),
    segment('b', 10, [use('burn', 6, 2, { with: 'oil' })], still),
    segment('c', 10, [use('flare', 3, 0, { with: 'oil' })], still),
  ];
  const { times } = playAll(segments, { oil: 0.5, burn: 0.5, flare: 1 });
  // Without oil 31; with it 31 − 6 − 3 or 31 + 2 − 3: never a flare without the oil.
  expect(atoms(times)).toEqual([
    [22, 0.25],
    [30, 0.25],
    [31, 0.5],
  ]);
});

test('every option’s outcomes have the survival and the mean of its average effect', () => {
  fc.assert(
    fc.property(anyRoute, ({ segments, rates }) => {
      const { layout, rateOf } = playAll(segments, rates);
      for (const option of layout.choices.flatMap((choice) => choice.options)) {
        const outcomes = outcomesOf(option, rateOf);
        const effect = optionEffect(option, rateOf);
        const alive = outcomes.reduce((sum, { chance }) => sum + chance, 0);
        expect(alive).toBeCloseTo(effect.survival, 10);
        const seconds = outcomes.reduce((sum, o) => sum + o.chance * o.seconds, 0);
        expect(-seconds / alive).toBeCloseTo(effect.seconds, 8);
        const lands = outcomes.reduce((sum, o) => sum + (o.lands ? o.chance : 0), 0);
        expect(lands).toBeCloseTo(effect.lands, 10);
      }
    }),
    { numRuns: 60 },
  );
});

test('mean and chance to finish are those of the expected run, on any grid, off-grid values included', () => {
  fc.assert(
    fc.property(anyRoute, fc.constantFrom(0.1, 0.37, 2), ({ segments, rates }, step) => {
      const { layout, played, rateOf, times, plan } = playAll(segments, rates, step);
      const state = new RunState(layout);
      state.recompute(played, rateOf);
      const { finalTime, finishChance, clockPerFinish } = state.worth(defaultConstants);
      const { mean, mass } = massAndMean(times);
      expect(mass / finishChance).toBeCloseTo(1, 9);
      expect(mean).toBeCloseTo(finalTime, 6);
      const { clock } = playUnderLine(plan, neverReset(plan), 0);
      expect(clock / mass / clockPerFinish).toBeCloseTo(1, 8);
    }),
    { numRuns: 80 },
  );
});

test('against runs played one by one', () => {
  // 100,000 runs of each of six routes; four standard errors of each figure.
  const random = seeded(20250301);
  for (const { segments, rates } of fc.sample(anyRoute, { numRuns: 6, seed: 11 })) {
    const { model, layout, played, rateOf, times, plan } = playAll(segments, rates);
    const { mean, mass } = massAndMean(times);
    const target = quantileOf(times, 0.3) + plan.step * 0.25;
    const chance = chanceUnder(times, target);
    const count = 1e5;
    let [finished, under, sum] = [0, 0, 0];
    for (let n = 0; n < count; n++) {
      const { final } = playRun(model, layout, played, rateOf, random);
      if (final === null) continue;
      finished++;
      sum += final;
      if (final < target) under++;
    }
    const error = (p: number): number => 4 * Math.sqrt((p * (1 - p)) / count) + 1e-9;
    expect(Math.abs(finished / count - mass)).toBeLessThan(error(mass));
    expect(Math.abs(sum / finished - mean)).toBeLessThan((4 * deviation(times)) / Math.sqrt(finished) + 1e-6);
    // Where nothing scatters, times sit on points that the grid may move by part of a step.
    if (plan.scatters) expect(Math.abs(under / count - chance)).toBeLessThan(error(chance) + 0.002);
  }
});

test('a longer account against a million runs', () => {
  const segments = Array.from({ length: 5 }, (_, s) =>
    segment(`s${s}`, 60 + s, [use(`t${s}`, 3, 1, s === 2 ? ends : {})], { spread: 1 + s / 2, survive: 0.98 }),
  );
  const { model, layout, played, rateOf, times } = playAll(segments, {
    t0: 0.7,
    t1: 0.5,
    t2: 0.9,
    t3: 0.6,
    t4: 0.8,
  });
  const random = seeded(7);
  const levels = [0.05, 0.5, 0.95].map((level) => quantileOf(times, level));
  const under = levels.map(() => 0);
  let [finished, count] = [0, 1e6];
  for (let n = 0; n < count; n++) {
    const { final } = playRun(model, layout, played, rateOf, random);
    if (final === null) continue;
    finished++;
    levels.forEach((level, i) => {
      if (final < level) under[i]!++;
    });
  }
  count = finished;
  // Four standard errors at a million runs, and 1e-4 for what a grid of 0.1 s rounds.
  [0.05, 0.5, 0.95].forEach((level, i) => {
    expect(Math.abs(under[i]! / count - level)).toBeLessThan(
      4 * Math.sqrt((level * (1 - level)) / count) + 1e-4,
    );
  });
});

test('a finer grid tells the same', () => {
  const segments = [
    segment('a', 60.04, [use('kick', 3.33, 1.07)], { spread: 1.1 }),
    segment('b', 71.5, [], { spread: 2 }),
  ];
  const at = (step: number) => playAll(segments, { kick: 0.6 }, step).times;
  for (const target of [128, 130.02, 133.7]) {
    expect(chanceUnder(at(0.1), target)).toBeCloseTo(chanceUnder(at(0.01), target), 3);
  }
});

test('one segment, none, and one that hardly anybody survives', () => {
  const one = playAll([segment('a', 60, [], still)]).times;
  expect(atoms(one)).toEqual([[60, 1]]);
  expect(chanceUnder(one, 60)).toBe(0);
  expect(chanceUnder(one, 60.01)).toBe(1);
  expect(quantileOf(one, 0.9)).toBe(60);
  expect(atoms(playAll([]).times)).toEqual([[0, 1]]);
  const deadly = playAll([
    segment('a', 60, [], { survive: 1e-6 }),
    segment('b', 60, [], { survive: 1e-6 }),
  ]).times;
  const { mass, mean } = massAndMean(deadly);
  expect(mass).toBeCloseTo(1e-12, 24);
  expect(mean).toBeCloseTo(120, 6);
  expect(quantileOf(deadly, 0.5)).toBeGreaterThan(119);
});

test('numbers out of all proportion give finite answers on a wider grid', () => {
  const wild = segment('a', 1e300, [use('kick', 1e9, 1e12)], {
    spread: 1e8,
    luck: [{ chance: 0.5, adds: 1e9 }],
  });
  const { plan, times } = playAll([wild, segment('b', NaN, [], { spread: Infinity, survive: NaN })], {
    kick: 0.5,
  });
  expect(plan.step).toBeGreaterThan(0.1);
  expect(times.masses.length).toBeLessThan(300_000);
  expect(Number.isFinite(massAndMean(times).mean)).toBe(true);
});

test('more items than can be followed at once count by chance, and are named', () => {
  const items = Array.from({ length: 9 }, (_, i) => `item-${i}`);
  const taking = items.map((item) => use(`take-${item}`, 0, 0, { take: item }));
  const using = items.map((item) => use(`use-${item}`, 2, 0, { with: item }));
  const rates = Object.fromEntries(
    items.flatMap((i) => [
      [`take-${i}`, 0.5],
      [`use-${i}`, 1],
    ]),
  );
  const { plan, times } = playAll([segment('a', 60, taking), segment('b', 60, using)], rates);
  expect(plan.roughItems).toEqual(['item-6', 'item-7', 'item-8']);
  expect(massAndMean(times).mean).toBeCloseTo(120 - 9, 6);
});

test('the expected best of several runs: by hand, and falling', () => {
  const coin = playAll([segment('a', 10, [], { ...still, luck: [{ chance: 0.5, adds: 4 }] })]).times;
  expect(expectedBest(coin, 1)).toBeCloseTo(12, 9);
  expect(expectedBest(coin, 3)).toBeCloseTo(10 + 4 / 8, 9);
  const wide = playAll([segment('a', 60, [], { spread: 2, survive: 0.3 })]).times;
  expect(expectedBest(wide, 1)).toBeCloseTo(60, 6);
  expect(expectedBest(wide, 10)).toBeLessThan(expectedBest(wide, 5));
});
