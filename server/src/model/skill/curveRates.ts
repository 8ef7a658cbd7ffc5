/** The landing rates in practice of the curves of a grid, at a level of practice. */
import { exponential } from './curveGrid.ts';
import type { CurveGrid } from './curveGrid.ts';

/** How much of the way from floor to ceiling is done at a level of practice that is `x` past half-way. */
function learnedShare(steepness: number, x: number): number {
  return steepness === exponential
    ? -Math.expm1(-Math.LN2 * Math.exp(x))
    : 1 / (1 + Math.exp(-steepness * x));
}

/** Log odds of {@link learnedShare}, which are finite. */
function learnedLogit(steepness: number, x: number): number {
  if (steepness !== exponential) return steepness * x;
  return Math.log(Math.expm1(Math.min(700, Math.LN2 * Math.exp(x))));
}

/**
 * The level of practice with a head start: ln(1 + E/unit) of logged and earlier practice together.
 *
 * @param factor e^(head start); 1 where there is none
 */
export function levelWithHeadStart(level: number, factor: number): number {
  return factor === 1 ? level : Math.log(factor + Math.expm1(level));
}

/** The level of practice with each head start. */
function headLevels({ headStartFactors }: CurveGrid, level: number): Float64Array {
  return headStartFactors.map((factor) => levelWithHeadStart(level, factor));
}

/** The number of the head start of a curve. */
export function headStartOf({ shapes, shapesPerHeadStart }: CurveGrid, curve: number): number {
  return Math.floor((curve % shapes) / shapesPerHeadStart);
}

/** Log odds of rates, none of which may be 0 or 1. */
export function ratesToLogits(rates: Float64Array): Float64Array {
  const out = new Float64Array(rates.length);
  for (let i = 0; i < rates.length; i++) out[i] = Math.log(rates[i]! / (1 - rates[i]!));
  return out;
}

/** Log odds of the landing rate in practice at a level of practice, of the given curves in rising order. */
export function curveLogits(grid: CurveGrid, curves: Int32Array, level: number): Float64Array {
  const {
    shapesPerHeadStart: perHead,
    pairSlot,
    pairSteepness,
    slotMidway,
    curveCeiling,
    curveFloor,
    rateFloor,
  } = grid;
  const out = new Float64Array(curves.length);
  const levels = headLevels(grid, level);
  const edge = Math.log((1 - rateFloor) / rateFloor);
  let lastGroup = -1;
  let x = 0;
  let learned = 0;
  for (let i = 0; i < curves.length; i++) {
    const curve = curves[i]!;
    // Curves with the same pair and the same head start have the same logistic part, so it is computed once.
    const own = Math.floor(curve / perHead);
    const pair = Math.floor(own / levels.length);
    if (own !== lastGroup) {
      lastGroup = own;
      const steepness = pairSteepness[pair]!;
      const past = levels[own - pair * levels.length]! - slotMidway[pairSlot[pair]!]!;
      x = learnedLogit(steepness, past);
      learned = learnedShare(steepness, past);
    }
    const floor = curveFloor[curve]!;
    const ceiling = curveCeiling[curve]!;
    let odds = x;
    if (floor !== 0 || ceiling !== 1) {
      const rate = floor + (ceiling - floor) * learned;
      odds = Math.log(rate / (1 - rate));
    }
    out[i] = odds < -edge ? -edge : odds > edge ? edge : odds;
  }
  return out;
}
