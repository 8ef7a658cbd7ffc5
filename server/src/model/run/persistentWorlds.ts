/**
 * Possible worlds of one forecast, for what depends on many runs of the same runner.
 *
 * What the runner does not know (how often a technique really lands, how many seconds it really saves) is the same
 * in all runs of a forecast. A world is one possible answer to all of these questions: a possible runner, a landing
 * rate of each technique given that runner, and the seconds that each use saves. The worlds are a Latin hypercube
 * (McKay, Beckman & Conover 1979, Technometrics 21): each question's answers are spread evenly over all worlds, in a
 * mixed order that is always the same.
 */
import { centredRates } from './runnerScenarios.ts';
import type { RunnerScenario } from './runnerScenarios.ts';
import { clamp, logistic } from '../core/numbers.ts';
import type { FittedTechnique, PreparedModel } from './preparedModel.ts';
import type { UseRole } from './outcomes.ts';
import type { LandingRateOf } from './runState.ts';
import type { RouteModel, UseModel } from '../core/types.ts';

/** One possible world. All worlds of a list are equally likely. */
export interface PersistentWorld {
  /** Place of its runner in the list of scenarios. */
  readonly scenario: number;
  readonly rateOf: LandingRateOf;
  /**
   * How far the seconds that a use saves are from what the route says, in standard deviations; for the use itself,
   * or for its backup.
   */
  readonly deviationOf: (use: UseModel, role: UseRole) => number;
}

/** Number of worlds. Chosen: the expected best of 100 runs is then within a few hundredths of its spread. */
const worldCount = 128;

/** Number of equally likely points that stand for the posterior of one technique. */
const pointCount = 256;

/** Points of a posterior, by rising landing rate in a run. */
interface PosteriorPoints {
  readonly rates: Float64Array;
  readonly slots: Int32Array;
  readonly losses: Int32Array;
}

/** Takes points at equal distances of the cumulative posterior over curves and losses. */
function pointsOf({ posterior, logitsNow }: FittedTechnique): PosteriorPoints {
  const { grid, curves, losses, rows, row, weight, cumulative } = posterior;
  const width = losses.count;
  const found: { rate: number; slot: number; loss: number }[] = [];
  let total = 0;
  for (let i = 0; i < curves.length; i++) total += weight[i]! * cumulative[row[i]! * (width + 1) + width]!;
  let below = 0;
  for (let i = 0; i < curves.length && found.length < pointCount; i++) {
    const from = row[i]! * width;
    for (let j = 0; j < width; j++) {
      below += weight[i]! * rows[from + j]!;
      while (found.length < pointCount && below >= ((found.length + 0.5) / pointCount) * total) {
        const rate = logistic(logitsNow[i]! - losses.from - j * losses.step);
        found.push({
          rate: clamp(rate, grid.rateFloor, 1 - grid.rateFloor),
          slot: grid.curveSlot[curves[i]!]!,
          loss: j,
        });
      }
    }
  }
  found.sort((a, b) => a.rate - b.rate || a.slot - b.slot || a.loss - b.loss);
  return {
    rates: Float64Array.from(found, ({ rate }) => rate),
    slots: Int32Array.from(found, ({ slot }) => slot),
    losses: Int32Array.from(found, ({ loss }) => loss),
  };
}

/**
 * The running sums of the points' weights, given a possible runner: each point counts as much more or less as the
 * runner makes its half-way point and its loss more or less likely than before.
 */
function cumulativeGiven(
  points: PosteriorPoints,
  { prior, technique, posterior }: FittedTechnique,
  { runner }: PreparedModel,
  { row, column }: RunnerScenario,
): Float64Array {
  const width = posterior.losses.count;
  const slotPrior = runner.slotPriors(technique)[row]!;
  const lossPrior = runner.lossPriors(technique)[column]!;
  const sums = new Float64Array(points.rates.length);
  let sum = 0;
  for (let p = 0; p < sums.length; p++) {
    const [slot, loss] = [points.slots[p]!, points.losses[p]!];
    const before = prior[slot * width + loss]!;
    if (before > 0) sum += (slotPrior[slot]! * lossPrior[loss]!) / before;
    sums[p] = sum;
  }
  return sums;
}

/** Whole numbers below a bound, always the same ones (xorshift of 32 bits; Marsaglia 2003, J. Stat. Software 8). */
function mixer(): (below: number) => number {
  let state = 0x9e3779b9;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return Math.floor(((state >>> 0) / 2 ** 32) * below);
  };
}

/** For each world the middle of its part of 0 to 1; each part belongs to one world. */
function mixedParts(random: (below: number) => number): Float64Array {
  const parts = Float64Array.from({ length: worldCount }, (_, w) => (w + 0.5) / worldCount);
  for (let i = worldCount - 1; i > 0; i--) {
    const j = random(i + 1);
    [parts[i], parts[j]] = [parts[j]!, parts[i]!];
  }
  return parts;
}

/** Quantile of the standard normal distribution (Hastings 1955; Abramowitz & Stegun 26.2.23), error below 5e-4. */
function normalQuantile(share: number): number {
  const t = Math.sqrt(-2 * Math.log(Math.min(share, 1 - share)));
  const above = 2.515517 + t * (0.802853 + t * 0.010328);
  const below = 1 + t * (1.432788 + t * (0.189269 + t * 0.001308));
  return Math.sign(share - 0.5) * (t - above / below);
}

/** The first point whose running sum reaches a share of the whole. */
function pointAt(sums: Float64Array, share: number): number {
  const wanted = share * sums[sums.length - 1]!;
  let low = 0;
  let high = sums.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sums[middle]! < wanted) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The scenario of each world, in proportion to the scenarios' weights. */
function scenarioOfWorlds(scenarios: readonly RunnerScenario[]): number[] {
  let at = 0;
  let below = scenarios[0]?.weight ?? 1;
  return Array.from({ length: worldCount }, (_, w) => {
    while (at < scenarios.length - 1 && below < (w + 0.5) / worldCount) below += scenarios[++at]!.weight;
    return at;
  });
}

/** Techniques in the order in which the route tries them first, so that neither names nor lists decide. */
function inOrderOfRoute({ segments }: RouteModel, means: ReadonlyMap<string, number>): string[] {
  const named = segments.flatMap(({ uses }) =>
    uses.flatMap(({ technique, backup }) => (backup === undefined ? [technique] : [technique, backup])),
  );
  return [...new Set([...named, ...means.keys()])].filter((id) => means.has(id));
}

/**
 * The worlds of a forecast; none where nothing is doubted. The mean landing rate of each technique over all worlds is its posterior mean, `means`.
 *
 * @param scenarios the possible runners; an empty list takes the mean rates as certain
 */
export function persistentWorlds(
  prepared: PreparedModel,
  route: RouteModel,
  means: ReadonlyMap<string, number>,
  scenarios: readonly RunnerScenario[],
): PersistentWorld[] {
  const random = mixer();
  const of = scenarioOfWorlds(scenarios);
  const rates = new Map<string, Float64Array>();
  for (const id of inOrderOfRoute(route, means)) {
    const parts = mixedParts(random);
    const subject = prepared.fittedTechniques.get(id);
    if (subject === undefined || scenarios.length === 0) continue;
    const { memory, posterior, logitsNow } = subject;
    const points = memory.getOrCompute('points', [posterior, logitsNow], () => pointsOf(subject));
    const sums = scenarios.map((scenario) => cumulativeGiven(points, subject, prepared, scenario));
    const drawn = parts.map((part, w) => points.rates[pointAt(sums[of[w]!]!, part)]!);
    rates.set(id, centredRates(drawn, new Float64Array(worldCount).fill(1 / worldCount), means.get(id)!));
  }
  const own = new Map<UseModel, Float64Array>();
  const backups = new Map<UseModel, Float64Array>();
  for (const use of route.segments.flatMap(({ uses }) => uses)) {
    if (use.saves.sd > 0) own.set(use, mixedParts(random).map(normalQuantile));
    if ((use.backupUse?.saves.sd ?? 0) > 0) backups.set(use, mixedParts(random).map(normalQuantile));
  }
  if (rates.size === 0 && own.size === 0 && backups.size === 0) return [];
  return of.map((scenario, w) => ({
    scenario,
    rateOf: (technique) => rates.get(technique)?.[w] ?? means.get(technique) ?? 0,
    deviationOf: (use, role) => (role === 'own' ? own : backups).get(use)?.[w] ?? 0,
  }));
}
