/**
 * How likely each landing rate in a run is at each level of practice. Whatever landing saves, its expectation at a
 * level is then one short sum: another saving needs no new look at the curves.
 */
import { practiceLogits } from '../skill/rateEstimates.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { RateTable } from '../core/rateTable.ts';
import { levelStep } from './levelTable.ts';

/** Shares of the posterior at one level, from bin `first` on. Bin b stands for point b · `stride` of a table of rates. */
interface LevelRow {
  readonly first: number;
  readonly shares: Float64Array;
}

/** Points of a table of rates to a bin: a rate between two of them counts for both, as in reading the table. */
const pointsPerBin = 2;

/** Parts of the posterior that are lighter are left out: all of them together stay below a ten-thousandth. */
const negligibleMass = 1e-9;

/** What can be asked of one posterior; rows are worked out once each, when they are first asked for. */
export interface RateDistribution {
  /** Expected value at level `index` · {@link levelStep} of a function of the rate in a run. */
  readonly expected: (index: number, table: RateTable) => number;
}

/** @param like a table of the kind that will be asked about: all have their points at the same log odds */
export function rateDistribution(
  posterior: SkillPosterior,
  { from, step, values }: RateTable,
): RateDistribution {
  const { losses, rows, weight, row } = posterior;
  const width = losses.count;
  const bins = (values.length - 1) / pointsPerBin + 1;
  const binStep = step * pointsPerBin;
  const fall = losses.step / binStep;
  const spans = lossSpans(posterior);
  const known = new Map<number, LevelRow>();
  const shares = new Float64Array(bins);

  const rowAt = (index: number): LevelRow => {
    shares.fill(0);
    const x = practiceLogits(posterior, index * levelStep);
    for (let i = 0; i < x.length; i++) {
      const start = spans[2 * i]!;
      const end = spans[2 * i + 1]!;
      let at = (x[i]! - losses.from - start * losses.step - from) / binStep;
      for (let j = start, r = row[i]! * width + start; j < end; j++, r++, at -= fall) {
        const share = weight[i]! * rows[r]!;
        if (at <= 0) shares[0]! += share;
        else if (at >= bins - 1) shares[bins - 1]! += share;
        else {
          const below = at | 0;
          const upper = share * (at - below);
          shares[below]! += share - upper;
          shares[below + 1]! += upper;
        }
      }
    }
    let first = 0;
    let last = bins - 1;
    while (first < last && shares[first] === 0) first++;
    while (last > first && shares[last] === 0) last--;
    const total = shares.reduce((a, b) => a + b, 0);
    return { first, shares: shares.slice(first, last + 1).map((share) => share / total) };
  };

  return {
    expected: (index, table) => {
      let own = known.get(index);
      if (own === undefined) known.set(index, (own = rowAt(index)));
      let sum = 0;
      for (let b = 0, v = own.first * pointsPerBin; b < own.shares.length; b++, v += pointsPerBin)
        sum += own.shares[b]! * table.values[v]!;
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
