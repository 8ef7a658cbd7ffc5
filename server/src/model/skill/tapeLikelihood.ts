/**
 * How likely an order of landed and missed tries is, given only how many of them landed.
 *
 * With log odds x + o_j of try j, the chance of an order given its number landed is
 * exp(Σ o_j over the landed tries) / Σ over all orders with so many landed of the same. The block's own rate x is in both and
 * drops out (conditional logistic likelihood; Breslow & Day 1980, Statistical Methods in Cancer Research I, chapter 7, from
 * memory).
 */

/** The sums are at most e to this before they are made smaller; e^709 is the greatest number there is. */
const mostGrowth = 300;

/**
 * Log chance of an order of tries, given how many landed.
 *
 * @param landed one value for each try, in order
 * @param offsets log odds of each try, apart from what all tries of the block have in common
 *
 * @example
 * orderLogChance([true, false], Float64Array.of(0, 0)) // -0.693
 */
export function orderLogChance(landed: readonly boolean[], offsets: Float64Array): number {
  const wanted = landed.reduce((sum, one) => sum + Number(one), 0);
  if (wanted === 0 || wanted === landed.length) return 0;
  // What all tries have in common drops out. It is chosen so that about the right number would land: the orders that are
  // wanted are then never too rare among all to be told from zero.
  const mean = offsets.reduce((sum, one) => sum + one, 0) / offsets.length;
  const common = Math.log(wanted / (landed.length - wanted)) - mean;
  // Sums over all orders of the first tries, by how many of them landed; made smaller before they can overflow.
  const sums = new Float64Array(wanted + 1);
  sums[0] = 1;
  let scale = 0;
  let growth = 0;
  let own = 0;
  for (let j = 0; j < landed.length; j++) {
    const odds = Math.exp(offsets[j]! + common);
    // So many at least must land by now for the rest to be enough, and no more than are wanted.
    const least = Math.max(1, wanted - (landed.length - j - 1));
    for (let k = Math.min(j + 1, wanted); k >= least; k--) sums[k]! += odds * sums[k - 1]!;
    if (landed[j]!) own += offsets[j]! + common;
    growth += Math.log1p(odds);
    if (growth < mostGrowth) continue;
    growth = 0;
    const top = sums.reduce((a, b) => Math.max(a, b), 0);
    for (let k = 0; k <= wanted; k++) sums[k]! /= top;
    scale += Math.log(top);
  }
  return own - Math.log(sums[wanted]!) - scale;
}
