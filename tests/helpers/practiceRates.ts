/** The landing rates of all curves of a grid, curve by curve as the formula is written: what faster ways are held against. */
import { exponential } from '../../server/src/model/skill/curveGrid.ts';
import type { CurveGrid } from '../../server/src/model/skill/curveGrid.ts';
import { headStartOf, levelWithHeadStart } from '../../server/src/model/skill/curveRates.ts';

/** The landing rate in practice of every curve at a level of practice, limited so that it is never 0 or 1. */
export function practiceRates(grid: CurveGrid, level: number): Float64Array {
  return Float64Array.from({ length: grid.curves }, (_, curve) => {
    const steepness = grid.pairSteepness[Math.floor(curve / grid.shapes)]!;
    const own = levelWithHeadStart(level, grid.headStartFactors[headStartOf(grid, curve)]!);
    const past = own - grid.slotMidway[grid.curveSlot[curve]!]!;
    const learned =
      steepness === exponential
        ? -Math.expm1(-Math.LN2 * Math.exp(past))
        : 1 / (1 + Math.exp(-steepness * past));
    const floor = grid.curveFloor[curve]!;
    const rate = floor + (grid.curveCeiling[curve]! - floor) * learned;
    return Math.min(1 - grid.rateFloor, Math.max(grid.rateFloor, rate));
  });
}
