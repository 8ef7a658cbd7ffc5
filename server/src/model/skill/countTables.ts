/** Tables of the likelihood of counts that share what they have in common. */
import gammaln from '@stdlib/math-base-special-gammaln';
import type { MemoCache } from '../../incremental/memoCache.ts';
import type { Constants } from '../core/constants.ts';
import { clamp, logistic } from '../core/numbers.ts';
import { concentrationAt, likelihoodTableStep, type CountLikelihoodTable } from './countLikelihood.ts';

/** A product is taken to its logarithm before it can leave the range of a number. */
const greatProduct = 1e250;

/** Up to this many factors are multiplied; more are the quotient of two gamma functions. */
const fewFactors = 1_000;

/**
 * Tables of `logBetaBinomial` for mean rates from `rateFloor` to 1 − `rateFloor`, each made once.
 *
 * The likelihood of a count is a product of three rising factorials: of what was landed, of what was missed and of the tries. Few
 * numbers come up among many counts, so each of the three is tabulated by its number, and a count's table is their sum.
 *
 * S, from memory: the beta-binomial in rising factorials (Johnson, Kemp and Kotz, Univariate Discrete Distributions, 6.2.2).
 */
export class CountTables {
  private readonly half: number;
  private readonly landed: RisingFactorials;
  private readonly tries: RisingFactorials;
  private readonly tables = new Map<string, CountLikelihoodTable>();

  constructor({ concentration, rateFloor }: Pick<Constants, 'concentration' | 'rateFloor'>) {
    const edge = Math.log((1 - rateFloor) / rateFloor);
    this.half = Math.ceil(edge / likelihoodTableStep) + 2;
    const means = Float64Array.from({ length: 2 * this.half + 1 }, (_, i) =>
      clamp(logistic((i - this.half) * likelihoodTableStep), rateFloor, 1 - rateFloor),
    );
    const alike = means.map((mean) => concentrationAt(mean, concentration));
    this.landed = new RisingFactorials(means.map((mean, i) => mean * alike[i]!));
    this.tries = new RisingFactorials(alike);
  }

  /** The table of one day's count; the same object for the same count. */
  of(landed: number, tries: number): CountLikelihoodTable {
    const key = `${landed}/${tries}`;
    const known = this.tables.get(key);
    if (known !== undefined) return known;
    const values = this.landed.of(landed).slice();
    // A miss at a rate is what landing is at the opposite one, and the points lie the same to both sides.
    const missed = this.landed.of(tries - landed);
    const all = this.tries.of(tries);
    for (let i = 0, j = values.length - 1; j >= 0; i++, j--) values[i]! += missed[j]! - all[i]!;
    const table = { from: -this.half * likelihoodTableStep, step: likelihoodTableStep, values };
    this.tables.set(key, table);
    return table;
  }
}

/** The tables of a route's counts, kept in the cache that its techniques share. */
export function countTablesIn(shared: MemoCache, constants: Constants): CountTables {
  return shared.getOrCompute('likelihood tables', [constants], () => new CountTables(constants));
}

/** Logarithms of x·(x + 1)·…·(x + n − 1) for each x of a list, by n. */
class RisingFactorials {
  private readonly from: Float64Array;
  private readonly byNumber = new Map<number, Float64Array>();

  constructor(from: Float64Array) {
    this.from = from;
  }

  of(n: number): Float64Array {
    const known = this.byNumber.get(n);
    if (known !== undefined) return known;
    const made = this.from.map((x) => (n <= fewFactors ? logProduct(x, n) : gammaln(x + n) - gammaln(x)));
    this.byNumber.set(n, made);
    return made;
  }
}

function logProduct(x: number, n: number): number {
  let log = 0;
  let product = 1;
  for (let k = 0; k < n; k++) {
    product *= x + k;
    if (product < greatProduct) continue;
    log += Math.log(product);
    product = 1;
  }
  return log + Math.log(product);
}
