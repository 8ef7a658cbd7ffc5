import { expect, test } from 'vitest';
import { resolveConstants } from '../../server/src/model/core/constants.ts';
import { curveGrid } from '../../server/src/model/skill/curveGrid.ts';
import { curveLogits } from '../../server/src/model/skill/curveRates.ts';
import { dose, practiceLevel } from '../../server/src/model/skill/practiceState.ts';
import { fitScaled } from '../helpers/leastSquares.ts';

/*
 * S: NIST/ITL Statistical Reference Datasets, nonlinear regression: certified parameters and residual sums of squares.
 * The curves fitted are the project's own; the fit finds the certified numbers only if they have the stated form.
 */

test('BoxBOD: what a day of practice counts for is a saturating exponential', () => {
  // y = b1·(1 − e^(−b2·x)): a block of x minutes with an attempt a minute, saturating after 1/b2 minutes.
  const x = [1, 2, 3, 5, 7, 10];
  const y = [109, 149, 149, 191, 213, 224];
  const counted = (tau: number, minutes: number): number =>
    dose(minutes, minutes, 0, { ...resolveConstants(), daySaturation: tau });
  const fit = fitScaled(x, y, counted, [0.5, 20]);
  // Tolerances: half the digits of a number, which is what a search by residuals alone can find.
  expect(1 / fit.parameter).toBeCloseTo(0.54723748542, 6);
  expect(fit.factor * fit.parameter).toBeCloseTo(213.80940889, 4);
  expect(fit.residuals).toBeCloseTo(1168.0088766, 6);
});

test('DanWood: the odds of landing grow as a power of practice', () => {
  // y = b1·x^b2: the odds at x units of practice, where half-way is one unit, the ceiling 1 and the floor 0.
  const x = [1.309, 1.471, 1.49, 1.565, 1.611, 1.68];
  const y = [2.138, 3.421, 3.597, 4.34, 4.882, 5.66];
  const odds = (power: number, units: number): number => {
    const constants = resolveConstants({ steepness: Array<number>(5).fill(power) });
    const grid = curveGrid(constants);
    const curve = [...grid.curveSlot.keys()].find((i) => {
      const plain = grid.curveCeiling[i] === 1 && grid.curveFloor[i] === 0;
      return plain && grid.slotMidway[grid.curveSlot[i]!] === 0;
    });
    const at = practiceLevel(constants.unitPractice * (units - 1), constants);
    return Math.exp(curveLogits(grid, Int32Array.of(curve!), at)[0]!);
  };
  const fit = fitScaled(x, y, odds, [1, 8]);
  expect(fit.parameter).toBeCloseTo(3.8604055871, 6);
  expect(fit.factor).toBeCloseTo(0.76886226176, 6);
  expect(fit.residuals).toBeCloseTo(0.0043173084083, 10);
});
