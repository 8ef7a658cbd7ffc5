/**
 * The distribution of the landing rate in a run at each level of practice. With it, the expected value of any
 * function of the rate at a level is one short sum, without going through the curves again.
 */
import { practiceLogits } from '../skill/rateEstimates.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { RateTable } from '../core/rateTable.ts';
import { levelStep } from './levelTable.ts';

/**
 * Shares of the posterior at one level, by the points of a rate table. The first value belongs to point `first`. A rate
 * between two points is divided between both, as in linear interpolation.
 */
interface LevelRow {
  readonly first: number;
  readonly shares: Float64Array;
}

/** Parts of the posterior with a smaller mass are left out; together they are below 1e-4. */
const negligibleMass = 1e-9;

/** Expected values from one posterior. Each row is computed once, when it is first needed. */
export interface RateDistribution {
  /** Expected value at level `index` · {@link levelStep} of a function of the rate in a run. */
  readonly expected: (index: number, table: RateTable) => number;
}

/** @param like a table with the same points as all tables that `expected` will be called with */
export function rateDistribution(
  posterior: SkillPosterior,
  { from, step, values }: RateTable,
): RateDistribution {
  const { losses, rows, weight, row } = posterior;
  const width = losses.count;
  const points = values.length;
  const fall = losses.step / step;
  const spans = lossSpans(posterior);
  const cached = new Map<number, LevelRow>();
  const shares = new Float64Array(points);

  const rowAt = (index: number): LevelRow => {
    shares.fill(0);
    const x = practiceLogits(posterior, index * levelStep);
    for (let i = 0; i < x.length; i++) {
      const start = spans[2 * i]!;
      const end = spans[2 * i + 1]!;
      let at = (x[i]! - losses.from - start * losses.step - from) / step;
      for (let j = start, r = row[i]! * width + start; j < end; j++, r++, at -= fall) {
        const share = weight[i]! * rows[r]!;
        if (at <= 0) shares[0]! += share;
        else if (at >= points - 1) shares[points - 1]! += share;
        else {
          const below = at | 0;
          const upper = share * (at - below);
          shares[below]! += share - upper;
          shares[below + 1]! += upper;
        }
      }
    }
    let first = 0;
    let last = points - 1;
    while (first < last && shares[first] === 0) first++;
    while (last > first && shares[last] === 0) last--;
    const total = shares.reduce((a, b) => a + b, 0);
    return { first, shares: shares.slice(first, last + 1).map((share) => share / total) };
  };

  return {
    expected: (index, table) => {
      let own = cached.get(index);
      if (own === undefined) cached.set(index, (own = rowAt(index)));
      let sum = 0;
      for (let i = 0; i < own.shares.length; i++) sum += own.shares[i]! * table.values[own.first + i]!;
      return sum;
    },
  };
}

/** For each curve, the first of its losses that carry weight and the one after the last. */
function lossSpans({ losses, rows, weight, row }: SkillPosterior): Int32Array {
  const width = losses.count;
  const spans = new Int32Array(2 * weight.length);
  for (let i = 0; i < weight.length; i++) {
    const at = row[i]! * width;
    let start = 0;
    let end = width;
    while (start < end && weight[i]! * rows[at + start]! < negligibleMass) start++;
    while (end > start && weight[i]! * rows[at + end - 1]! < negligibleMass) end--;
    spans[2 * i] = start;
    spans[2 * i + 1] = end;
  }
  return spans;
}
