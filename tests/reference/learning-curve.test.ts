import { expect, test } from 'vitest';
import { resolveConstants } from '../../server/src/model/core/constants.ts';
import { curveGrid } from '../../server/src/model/skill/curveGrid.ts';
import { curveLogits } from '../../server/src/model/skill/curveRates.ts';
import { practiceLevel } from '../../server/src/model/skill/practiceState.ts';

/*
 * With ceiling 1 and floor 0 the odds of a miss are e^(s·c)·(1 + E/unit)^(−s): a power law of practice. At
 * s = −log2(0.8) and c = 0 each doubling of practice leaves 80 % of them, which is the 80 % curve of the textbooks.
 */
const slope = -Math.log2(0.8);
const constants = resolveConstants({ steepness: [slope, slope, slope, slope, slope] });
const grid = curveGrid(constants);
const curve = [...grid.curveSlot.keys()].find((i) => {
  const plain = grid.curveCeiling[i] === 1 && grid.curveFloor[i] === 0;
  return plain && grid.slotMidway[grid.curveSlot[i]!] === 0;
});

/** Odds of a miss when practice is `unit` times the first unit. */
function missOdds(unit: number): number {
  const effective = constants.unitPractice * (unit - 1);
  const [x] = curveLogits(grid, Int32Array.of(curve ?? -1), practiceLevel(effective, constants));
  return Math.exp(-x!);
}

test('the odds of a miss follow the 80 % learning curve', () => {
  // S: textbook tables of unit values (Heizer & Render; Stevenson), three to four places.
  const table = [
    [1, 1],
    [2, 0.8],
    [3, 0.7021],
    [4, 0.64],
    [5, 0.5956],
    [8, 0.512],
    [10, 0.4765],
    [20, 0.3812],
    [30, 0.3346],
  ] as const;
  for (const [unit, value] of table) expect(missOdds(unit)).toBeCloseTo(value, 4);
});

test('and their running sums the cumulative table', () => {
  // S: the same tables, cumulative values.
  const table = new Map([
    [2, 1.8],
    [3, 2.5021],
    [4, 3.1421],
    [5, 3.7377],
    [8, 5.3459],
    [10, 6.3154],
    [20, 10.4849],
    [30, 14.0199],
  ]);
  let sum = 0;
  for (let unit = 1; unit <= 30; unit++) {
    sum += missOdds(unit);
    const value = table.get(unit);
    // Tolerance: half a unit of the table's fourth place, and its own rounding.
    if (value !== undefined) expect(Math.abs(sum - value)).toBeLessThan(1.5e-4);
  }
});
