import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { orderLogChance } from '../../../../server/src/model/skill/tapeLikelihood.ts';

/** All orders of so many tries of which so many landed. */
function orders(tries: number, landed: number): boolean[][] {
  if (tries === 0) return landed === 0 ? [[]] : [];
  return [true, false].flatMap((first) =>
    orders(tries - 1, landed - Number(first)).map((rest) => [first, ...rest]),
  );
}

describe('the chance of an order of tries', () => {
  it('is that of one of two that landed, as in a matched pair: 1 / (1 + e^(difference))', () => {
    // Breslow & Day 1980, Statistical Methods in Cancer Research I, section 7.2 (1:1 matching); from memory.
    const chance = Math.exp(orderLogChance([true, false], Float64Array.of(0.3, 1.1)));
    expect(chance).toBeCloseTo(1 / (1 + Math.exp(1.1 - 0.3)), 12);
  });

  it('is one over the number of orders where all tries are alike', () => {
    const landed = [true, false, false, true, false];
    expect(Math.exp(orderLogChance(landed, new Float64Array(5)))).toBeCloseTo(1 / 10, 12);
  });

  it('sums to one over all orders, and does not change with what all tries have in common', () => {
    const offsets = fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 1, maxLength: 7 });
    fc.assert(
      fc.property(offsets, fc.nat(7), fc.double({ min: -5, max: 5, noNaN: true }), (own, wish, common) => {
        const landed = Math.min(wish, own.length);
        const all = orders(own.length, landed);
        const chances = all.map((order) => orderLogChance(order, Float64Array.from(own)));
        expect(chances.reduce((sum, chance) => sum + Math.exp(chance), 0)).toBeCloseTo(1, 9);
        const shifted = orderLogChance(
          all[0]!,
          Float64Array.from(own, (one) => one + common),
        );
        expect(shifted).toBeCloseTo(chances[0]!, 8);
      }),
    );
  });

  it('is finite for 2,000 tries', () => {
    const landed = Array.from({ length: 2000 }, (_, j) => j % 3 === 0);
    // All orders are alike: one over 2000 over 667, by the sum of logarithms.
    let expected = 0;
    for (let k = 1; k <= 667; k++) expected += Math.log(k) - Math.log(2000 - 667 + k);
    expect(orderLogChance(landed, new Float64Array(2000).fill(2))).toBeCloseTo(expected, 6);
  });
});
