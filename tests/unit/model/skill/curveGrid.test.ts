import { describe, expect, test } from 'vitest';
import { defaultConstants as usual } from '../../../../server/src/model/core/constants.ts';
import { curveGrid, weighedFor } from '../../../../server/src/model/skill/curveGrid.ts';
import { curveLogits, headStartOf, ratesToLogits } from '../../../../server/src/model/skill/curveRates.ts';
import { midwayMean, slotPrior } from '../../../../server/src/model/skill/slotPrior.ts';
import { lossGrid } from '../../../../server/src/model/skill/evidence.ts';
import { practiceLevel } from '../../../../server/src/model/skill/practiceState.ts';
import { practiceEstimate, practiceLogits } from '../../../../server/src/model/skill/rateEstimates.ts';
import { skillPrior } from '../../../../server/src/model/skill/runnerPrior.ts';
import { skillPosterior } from '../../../../server/src/model/skill/skillPosterior.ts';
import { practiceRates } from '../../../helpers/practiceRates.ts';

const grid = curveGrid(usual);

test('the grid covers every combination with weights that sum to one a half-way point', () => {
  // 61 half-way points for three gentle slopes, 121 for three steep ones, sixteen shapes each.
  expect(grid.curves).toBe((3 * 61 + 3 * 121) * 16);
  let total = 0;
  for (let i = 0; i < grid.curves; i++) {
    const fine = grid.curveSlot[i]! >= 61;
    total += grid.curveWeight[i]! / (fine ? 121 : 61);
  }
  expect(total).toBeCloseTo(1, 12);
});

test('half-way in practice means half the way from floor to ceiling', () => {
  for (let pair = 0; pair < grid.pairs; pair += 13) {
    const rates = practiceRates(grid, grid.slotMidway[grid.pairSlot[pair]!]!);
    for (let shape = 0; shape < grid.shapes; shape++) {
      const curve = pair * grid.shapes + shape;
      const middle = (grid.curveCeiling[curve]! + grid.curveFloor[curve]!) / 2;
      expect(rates[curve]).toBeCloseTo(middle, 12);
    }
  }
});

test('log odds of chosen curves are those of their rates', () => {
  const curves = Int32Array.from({ length: grid.curves }, (_, i) => i);
  for (const at of [0, 2.3, 7]) {
    const direct = ratesToLogits(practiceRates(grid, at));
    curveLogits(grid, curves, at).forEach((x, i) => {
      expect(x).toBeCloseTo(direct[i]!, 8);
    });
  }
});

test('rates rise with practice and stay off 0 and 1', () => {
  let before = practiceRates(grid, 0);
  for (let at = 0.5; at <= 12; at += 0.5) {
    const rates = practiceRates(grid, at);
    expect(rates.every((rate, i) => rate >= before[i]! && rate >= 1e-4 && rate <= 1 - 1e-4)).toBe(true);
    before = rates;
  }
});

test('the prior of half-way points has the mean and spread asked for, on both layouts', () => {
  const prior = slotPrior(grid, 2.1, 1);
  for (const [from, to] of [
    [0, 61],
    [61, grid.slots],
  ] as const) {
    // prettier-ignore
    let mean = 0;
    let square = 0;
    for (let slot = from; slot < to; slot++) {
      mean += prior[slot]! * grid.slotMidway[slot]!;
      square += prior[slot]! * grid.slotMidway[slot]! ** 2;
    }
    expect(mean).toBeCloseTo(2.1, 6);
    expect(square - mean * mean).toBeCloseTo(1, 6);
  }
});

test('the difficulty scale: 80 % in practice after about 50, 550 and 9,000 attempts', () => {
  // The scale as told to people who rate difficulty (chosen, no source), at steepness 0.9, ceiling 1, floor 0.
  const attemptsTo80 = (difficulty: number): number => {
    const at = midwayMean({ difficulty }, 0, usual) + Math.log(4) / 0.9;
    return usual.unitPractice * Math.expm1(at);
  };
  expect(attemptsTo80(1)).toBeGreaterThan(45);
  expect(attemptsTo80(1)).toBeLessThan(60);
  expect(attemptsTo80(5)).toBeGreaterThan(500);
  expect(attemptsTo80(5)).toBeLessThan(600);
  expect(attemptsTo80(10)).toBeGreaterThan(8000);
  expect(attemptsTo80(10)).toBeLessThan(10000);
  expect(practiceLevel(attemptsTo80(5), usual)).toBeCloseTo(
    midwayMean({ difficulty: 5 }, 0, usual) + Math.log(4) / 0.9,
    9,
  );
});

describe('grids with fewer curves', () => {
  const kinds = ['uncounted', 'headStart'] as const;

  test.each(kinds)(
    'of kind `%s` weigh each pair of suddenness and half-way point as the whole grid does',
    (kind) => {
      const few = curveGrid(usual, kind);
      expect([few.pairs, few.slots]).toEqual([grid.pairs, grid.slots]);
      expect(few.curves).toBeLessThan(0.35 * grid.curves);
      for (const [number, weights] of few.learnerWeights.entries())
        for (let pair = 0; pair < grid.pairs; pair += 7)
          expect(weightOf(pair, weights, few.shapes)).toBeCloseTo(
            weightOf(pair, grid.learnerWeights[number]!, grid.shapes),
            12,
          );
    },
  );

  test.each(kinds)('of kind `%s` have in neighbouring pairs together every band', (kind) => {
    const few = curveGrid(usual, kind);
    for (let pair = 0; pair + 4 <= few.pairs; pair += 11) {
      const seen = new Set<string>();
      for (let curve = pair * few.shapes; curve < (pair + 4) * few.shapes; curve++)
        seen.add(`${few.ceilingBand[curve]!} ${few.floorBand[curve]!} ${headStartOf(few, curve)}`);
      // Four bands of ceilings, each with four bands of floors or with five head starts.
      expect(seen.size).toBe(kind === 'uncounted' ? 16 : 20);
    }
  });

  test('have no curve in a band without weight', () => {
    const bare = { ...usual, floorWeights: [0.5, 0, 0.5, 0], ceilingWeights: [0, 1, 1, 0] };
    expect(new Set(curveGrid(bare, 'uncounted').floorBand)).toEqual(new Set([0, 2]));
    expect(new Set(curveGrid(bare, 'headStart').ceilingBand)).toEqual(new Set([1, 2]));
  });

  test('tell a technique without counts as the whole grid does', () => {
    const losses = lossGrid(usual);
    for (const difficulty of [2, 5, 8]) {
      const prior = {
        offset: { mean: 0, sd: 0.7 },
        pressure: { mean: 0.4, sd: 0.4 },
        correlation: 0,
        learners: [1, 0, 0],
      };
      const [all, few] = [grid, curveGrid(usual, 'uncounted')].map((own) => {
        const weighed = weighedFor(own, prior.learners);
        return skillPosterior(
          null,
          skillPrior({ difficulty }, prior, weighed, losses, usual),
          weighed,
          losses,
        );
      });
      for (const level of [0, 2, 4, 6]) {
        const [whole, short] = [all!, few!].map((posterior) =>
          practiceEstimate(posterior, practiceLogits(posterior, level)),
        );
        expect(Math.abs(short!.mean - whole!.mean)).toBeLessThan(0.01);
        expect(Math.abs(short!.low - whole!.low)).toBeLessThan(0.02);
        expect(Math.abs(short!.high - whole!.high)).toBeLessThan(0.03);
      }
    }
  });

  function weightOf(pair: number, weights: Float64Array, shapes: number): number {
    return weights.subarray(pair * shapes, (pair + 1) * shapes).reduce((sum, weight) => sum + weight, 0);
  }
});
