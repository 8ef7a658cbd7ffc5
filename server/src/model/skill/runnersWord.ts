/**
 * What it says about a technique that the runner has it in the run, before anything is logged.
 *
 * A runner keeps in the run what lands often enough to pay there, so rates below break-even become less likely. The
 * word is not certain: some keep what does not pay, and nobody knows their rate exactly. So a rate far below
 * break-even keeps a share of its weight, and the change around break-even is gradual. Counts soon outweigh it.
 */
import { curveLogits } from './curveRates.ts';
import type { CurveGrid } from './curveGrid.ts';
import type { LossGrid } from './evidence.ts';
import { clamp, logistic, logit } from '../core/numbers.ts';

/** How likely a runner keeps in the run what lands far below break-even, against what lands far above. Chosen. */
const keptAlthoughTooRare = 0.1;

/** Width, in logits, of the change around break-even: between 40 and 60 % it is half of this. Chosen. */
const softness = 0.4;

/** Break-evens are rounded to this many logits, so that techniques that are much alike share one posterior. */
const roundedTo = 0.1;

/** The log odds of a break-even landing rate, rounded; null where there is no rate at which trying pays. */
export function paysFromLogit(breakEven: number | null): number | null {
  if (breakEven === null || !(breakEven < 1)) return null;
  return Math.round(logit(clamp(breakEven, 1e-4, 1 - 1e-4)) / roundedTo) * roundedTo;
}

/**
 * Likelihood of the runner's word: one row over the loss grid for each of some curves, at no logged practice.
 *
 * @param paysFrom log odds of the landing rate in a run from which trying pays
 */
export function wordLikelihood(
  grid: CurveGrid,
  curves: Int32Array,
  losses: LossGrid,
  paysFrom: number,
): Float64Array {
  const x = curveLogits(grid, curves, 0);
  const { from, step, count } = losses;
  const rows = new Float64Array(curves.length * count);
  for (let i = 0, at = 0; i < x.length; i++) {
    for (let j = 0; j < count; j++, at++) {
      const above = (x[i]! - from - j * step - paysFrom) / softness;
      rows[at] = keptAlthoughTooRare + (1 - keptAlthoughTooRare) * logistic(above);
    }
  }
  return rows;
}
