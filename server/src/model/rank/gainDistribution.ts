import type { QuadratureNodes } from '../skill/quadratureNodes.ts';
/**
 * The distribution of the gain from practice: quantiles of the drop in V, and the chance that a technique has the
 * greatest gain of all.
 */
import { practiceLogits } from '../skill/rateEstimates.ts';
import type { RankedCandidate } from './rankingOrder.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { RunnerPosterior } from '../skill/runnerPosterior.ts';
import { interpolateTable } from '../core/rateTable.ts';
import type { RateTable } from '../core/rateTable.ts';
import type { Rated } from '../core/rated.ts';

/**
 * Evenly spaced bins in the logarithm of a positive quantity. Bin 0 contains all values that are too small to
 * matter.
 */
export interface LogBins {
  readonly top: number;
  readonly perDecade: number;
  readonly count: number;
}

const decades = 5;

/** Bins that cover five powers of ten below `top`. */
export function logBins(top: number, perDecade: number): LogBins {
  return { top: Math.max(top, 1e-12), perDecade, count: decades * perDecade + 2 };
}

function binIndex(bins: LogBins, value: number): number {
  const below = Math.log10(bins.top / value) * bins.perDecade;
  if (!(below < bins.count - 1)) return 0;
  return Math.max(1, bins.count - 1 - Math.floor(below));
}

/** Lower and upper edge of a bin. */
function binEdges(bins: LogBins, bin: number): readonly [number, number] {
  const upper = bins.top * 10 ** ((bin + 1 - bins.count) / bins.perDecade);
  return bin === 0 ? [0, upper] : [upper / 10 ** (1 / bins.perDecade), upper];
}

/** Drop in V for each curve and each loss: one row over the loss grid for each curve. */
export function gainRows(
  posterior: SkillPosterior,
  idle: Float64Array,
  practised: Float64Array,
  saved: RateTable,
): Float64Array {
  const { losses } = posterior;
  const width = losses.count;
  const rowGains = new Float64Array(idle.length * width);
  for (let i = 0, at = 0; i < idle.length; i++) {
    for (let j = 0; j < width; j++, at++) {
      const loss = losses.from + j * losses.step;
      rowGains[at] = interpolateTable(saved, practised[i]! - loss) - interpolateTable(saved, idle[i]! - loss);
    }
  }
  return rowGains;
}

/**
 * The gains of a ranked technique after its blocks, for each curve over the loss grid, and the 10 % and 90 %
 * quantiles.
 */
export function gainDistribution({ candidate, blocks }: Pick<RankedCandidate, 'candidate' | 'blocks'>): {
  readonly rowGains: Float64Array;
  readonly low: number;
  readonly high: number;
} {
  const { subject, levels, worth } = candidate;
  const { posterior, memory } = subject;
  const rowGains = memory.getOrCompute('gain rows', [posterior, levels, blocks, worth.saved], () => {
    const idle = practiceLogits(posterior, levels.idle[blocks]!);
    const practised = practiceLogits(posterior, levels.practised[blocks]!);
    return gainRows(posterior, idle, practised, worth.saved);
  });
  return {
    rowGains,
    ...memory.getOrCompute('gain range', [rowGains, posterior], () => gainRange(posterior, rowGains)),
  };
}

/**
 * A drop below this share of the greatest is none. It is the difference of two values that are almost equal, so that rounding
 * decides whether it is above 0.
 */
const noDrop = 1e-9;

/** The 10 % and 90 % quantiles of the gains over the posterior. */
export function gainRange(
  posterior: SkillPosterior,
  rowGains: Float64Array,
): { readonly low: number; readonly high: number } {
  const { weight, row, rows } = posterior;
  const width = posterior.losses.count;
  let top = 0;
  for (const drop of rowGains) top = Math.max(top, drop);
  // The bins have equal width, because precision is needed only relative to the greatest gain.
  const count = 2000;
  const masses = new Float64Array(count + 1);
  let total = 0;
  for (let i = 0, at = 0; i < weight.length; i++) {
    for (let j = 0, r = row[i]! * width; j < width; j++, r++, at++) {
      const mass = weight[i]! * rows[r]!;
      const drop = rowGains[at]!;
      masses[drop > noDrop * top ? 1 + Math.min(count - 1, Math.floor((drop / top) * count)) : 0]! += mass;
      total += mass;
    }
  }
  const pointAt = (share: number): number => {
    let below = masses[0]!;
    if (below >= share * total || top === 0) return 0;
    for (let bin = 1; bin <= count; bin++) {
      const mass = masses[bin]!;
      if (mass > 0 && below + mass >= share * total) {
        return (top / count) * (bin - 1 + (share * total - below) / mass);
      }
      below += mass;
    }
    return top;
  };
  return { low: pointAt(0.1), high: pointAt(0.9) };
}

/**
 * For each node (offset, pressure), the distribution of the gain per hour over the bins. The result is stored node
 * by node (offsets in the outer loop); each node sums to 1.
 */
export function gainDistributionGivenRunner(
  posterior: SkillPosterior,
  rated: Rated,
  rowGains: Float64Array,
  hours: number,
  runner: RunnerPosterior,
  nodes: QuadratureNodes,
  bins: LogBins,
): Float64Array {
  const { grid, curves, losses, likelihood } = posterior;
  const width = losses.count;
  const heights = nodes.rows.length;
  // First step: for each offset, the mass in each (loss, bin). The values of all offsets are stored next to each
  // other.
  const byOffset = new Float64Array(width * bins.count * heights);
  const all = runner.slotPriors(rated);
  const priors = nodes.rows.map((r) => all[r]!);
  const shares = new Float64Array(heights);
  const { weight: posteriorWeight, row, rows } = posterior;
  for (let i = 0; i < curves.length; i++) {
    const slot = grid.curveSlot[curves[i]!]!;
    const weight = likelihood.curve[i]!;
    for (let u = 0; u < heights; u++) shares[u] = weight * priors[u]![slot]!;
    for (let j = 0; j < width; j++) {
      const seen = likelihood.runs === null ? 1 : likelihood.runs[i * width + j]!;
      // A point with a negligible weight in the posterior is negligible at all nodes with a large weight, too.
      if (posteriorWeight[i]! * rows[row[i]! * width + j]! < 1e-9) continue;
      const at = (j * bins.count + binIndex(bins, rowGains[i * width + j]! / hours)) * heights;
      for (let u = 0; u < heights; u++) byOffset[at + u]! += seen * shares[u]!;
    }
  }
  const out = new Float64Array(heights * nodes.columns.length * bins.count);
  const lossPriors = runner.lossPriors(rated);
  nodes.columns.forEach((k, column) => {
    const lossPrior = lossPriors[k]!;
    for (let j = 0; j < width; j++) {
      const share = lossPrior[j]!;
      for (let bin = 0; bin < bins.count; bin++) {
        const at = (j * bins.count + bin) * heights;
        for (let u = 0; u < heights; u++) {
          out[(u * nodes.columns.length + column) * bins.count + bin]! += share * byOffset[at + u]!;
        }
      }
    }
  });
  for (let from = 0; from < out.length; from += bins.count) {
    let total = 0;
    for (let bin = 0; bin < bins.count; bin++) total += out[from + bin]!;
    for (let bin = 0; bin < bins.count; bin++) out[from + bin] = total > 0 ? out[from + bin]! / total : 0;
  }
  return out;
}

/**
 * The chance of each of several independent quantities to be the greatest, given their distributions over the same
 * bins. Within a bin each is taken as uniformly distributed, so that equal quantities get equal chances.
 */
export function chancesOfMaximum(masses: readonly Float64Array[], from: number, bins: number): Float64Array {
  const chances = new Float64Array(masses.length);
  const below = new Float64Array(masses.length);
  // Gauss-Legendre points on (0, 1): exact for products of up to six uniform distributions.
  const points = [0.1127016653792583, 0.5, 0.8872983346207417];
  const weights = [5 / 18, 8 / 18, 5 / 18];
  // If one quantity is almost certainly above a bin, nothing in that bin can be the greatest.
  let first = from;
  for (const mass of masses) {
    let sum = 0;
    let bin = from - 1;
    while (sum < 1e-9 && bin < from + bins - 1) sum += mass[++bin]!;
    first = Math.max(first, bin);
  }
  masses.forEach((mass, i) => {
    for (let bin = from; bin < first; bin++) below[i]! += mass[bin]!;
  });
  // A quantity that lies completely below a bin contributes a factor of 1 in this and all higher bins, so it is
  // dropped.
  let open = [...masses.keys()];
  for (let bin = first; bin < from + bins; bin++) {
    open = open.filter((i) => below[i]! < 1 - 1e-12);
    for (let p = 0; p < points.length; p++) {
      let all = weights[p]!;
      for (const i of open) all *= below[i]! + points[p]! * masses[i]![bin]!;
      for (const i of open) {
        const mass = masses[i]![bin]!;
        if (mass > 0) chances[i]! += (mass * all) / (below[i]! + points[p]! * mass);
      }
    }
    for (const i of open) below[i]! += masses[i]![bin]!;
  }
  return chances;
}

/** The middle of a bin, to convert a distribution back to numbers. */
export function binMidpoint(bins: LogBins, bin: number): number {
  const [low, high] = binEdges(bins, bin);
  return (low + high) / 2;
}
