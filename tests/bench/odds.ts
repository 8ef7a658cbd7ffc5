import { chooseBaseline } from '../../server/src/model/run/baseline.ts';
import { defaultConstants } from '../../server/src/model/core/constants.ts';
import { layOutRoute } from '../../server/src/model/run/routeLayout.ts';
import type { RouteLayout } from '../../server/src/model/run/routeLayout.ts';
import { finalTimeDistribution } from '../../server/src/model/run/timeDistribution.ts';
import { addNoise } from '../../server/src/model/run/segmentNoise.ts';
import { computeOdds } from '../../server/src/model/run/odds.ts';
import type { OddsInput } from '../../server/src/model/run/odds.ts';
import { outcomesOf } from '../../server/src/model/run/outcomes.ts';
import { chanceUnder, quantileOf } from '../../server/src/model/run/timeStatistics.ts';
import { resetLine } from '../../server/src/model/run/resetLine.ts';
import type { ChosenOptions } from '../../server/src/model/run/playSegments.ts';
import { planRun } from '../../server/src/model/run/runPlan.ts';
import type { RunPlan } from '../../server/src/model/run/runPlan.ts';
import type { RouteModel, SegmentModel, UseModel } from '../../server/src/model/core/types.ts';
import { createRandom } from '../../samples/simulation/random.ts';
import type { Random } from '../../samples/simulation/random.ts';
import { byTurns, timed } from './samples.ts';
import type { Row } from './table.ts';

const segmentCount = 40;
const usesEach = 3;
const runs = 100_000;

/**
 * A route of 40 segments with three techniques each, and their landing rates. A miss of a few techniques ends the run.
 */
export function makeOddsCase(seed: number): { route: RouteModel; rates: ReadonlyMap<string, number> } {
  const random = createRandom(seed);
  const rates = new Map<string, number>();
  const segments = Array.from({ length: segmentCount }, (_, s): SegmentModel => {
    const uses = Array.from({ length: usesEach }, (_, u): UseModel => {
      const id = `technique-${s}-${u}`;
      rates.set(id, random.between(0.5, 0.95));
      return {
        id,
        technique: id,
        saves: { mean: random.between(1, 8), sd: 0 },
        misses: [{ chance: 1, loses: random.between(0.3, 3), endsRun: random.happens(0.05) }],
        retrySeconds: 0,
        maxTries: 1,
        costs: 0,
      };
    });
    const luck = random.happens(0.3) ? [{ chance: random.between(0.1, 0.6), adds: random.whole(2, 9) }] : [];
    const spread = random.between(0.8, 2.5);
    return { id: `segment-${s}`, time: random.between(45, 180), spread, survive: 0.995, luck, uses };
  });
  return { route: { segments, techniques: [], restart: 14 }, rates };
}

/** A fast simulation: everything that can be computed beforehand is, and a run is a sequence of random draws. */
function simulate(
  route: RouteModel,
  layout: RouteLayout,
  played: ChosenOptions,
  rates: ReadonlyMap<string, number>,
  random: Random,
  target: number,
  count: number,
): number {
  const tables = route.segments.map((segment, s) => ({
    ...segment,
    tries: (layout.choicesInSegment[s] ?? []).flatMap((c) => {
      const option = layout.choices[c]?.options[played[c]!];
      return option === undefined ? [] : [outcomesOf(option, (id) => rates.get(id) ?? 0)];
    }),
  }));
  const { next } = random;
  let under = 0;
  for (let n = 0; n < count; n++) {
    let time = 0;
    let alive = true;
    for (let s = 0; alive && s < tables.length; s++) {
      const { survive, spread, luck, tries, time: usual } = tables[s]!;
      alive = next() < survive;
      const four = -Math.log((1 - next()) * (1 - next()) * (1 - next()) * (1 - next()));
      time += usual + spread * (four / 2 - 2);
      for (const { chance, adds } of luck) if (next() < chance) time += adds;
      for (const outcomes of tries) {
        let left = next();
        let i = 0;
        while (i < outcomes.length && (left -= outcomes[i]!.chance) >= 0) i++;
        const outcome = outcomes[i];
        if (outcome === undefined) alive = false;
        else time += outcome.seconds;
      }
    }
    if (alive && time < target) under++;
  }
  return under / count;
}

/**
 * The same distribution with every segment's noise as a plain double sum, to measure how much time the filter saves.
 */
function cellsByDoubleSum(plan: RunPlan): number {
  let now = Float64Array.of(1);
  for (const { noise, steps, survive } of plan.segments) {
    const kernel = new Float64Array(noise.reach);
    kernel[0] = survive;
    addNoise(noise, kernel);
    for (const parts of [
      [{ points: [...kernel.keys()], chances: [...kernel] }],
      ...steps.map((s) => s.shifts),
    ]) {
      const low = parts.reduce((least, { points }) => Math.min(least, points[0]!), 0);
      const high = parts.reduce((most, { points }) => Math.max(most, points.at(-1)!), 0);
      const next = new Float64Array(now.length + high - low);
      for (const { points, chances } of parts)
        for (let p = 0; p < points.length; p++) {
          const [at, chance] = [points[p]! - low, chances[p]!];
          for (let i = 0; i < now.length; i++) next[at + i]! += chance * now[i]!;
        }
      now = next;
    }
    // Leaves out the same tails as the project's own code.
    let end = now.length;
    for (let left = 0; end > 1 && left + now[end - 1]! < 1e-15; end--) left += now[end - 1]!;
    now = now.slice(0, end);
  }
  return now.length;
}

/**
 * Measures, by turns, the odds of 40 segments and a seeded simulation; both compute the chance to beat a target. The
 * grid's error is its difference from a grid ten times finer; the simulation's is its standard error. The time that the
 * simulation would need for the grid's error is its time here, multiplied by the runs needed and divided by the runs
 * made.
 */
export async function measureOdds(seed: number, rounds: number): Promise<Row[]> {
  const { route, rates } = makeOddsCase(seed);
  const layout = layOutRoute(route);
  const rateOf = (id: string): number => rates.get(id) ?? 0;
  const { played } = chooseBaseline(layout, () => true, rateOf, defaultConstants);
  const planAt = (step: number): RunPlan => planRun(route, layout, { played, rateOf }, step).plan;
  const plan = planAt(0.1);
  const coarse = finalTimeDistribution(plan);
  const target = quantileOf(coarse, 0.1);
  const chance = chanceUnder(coarse, target);
  const error = Math.max(1e-9, Math.abs(chance - chanceUnder(finalTimeDistribution(planAt(0.01)), target)));
  const needed = (chance * (1 - chance)) / error ** 2;
  const input: OddsInput = {
    route,
    tried: new Set(rates.keys()),
    rateOf,
    target,
    constants: defaultConstants,
  };
  const random = createRandom(seed + 1);
  const samples = await byTurns(rounds, {
    distribution: () => timed(() => finalTimeDistribution(planAt(0.1))),
    line: () => timed(() => resetLine(planAt(0.1), target)),
    odds: () => timed(() => computeOdds(input)),
    direct: () => timed(() => cellsByDoubleSum(plan)),
    simulated: () => timed(() => simulate(route, layout, played, rates, random, target, runs)),
  });
  const equal = samples.simulated.map((ms) => (ms * needed) / runs);
  const size = (value: number): string => Number(value.toPrecision(2)).toLocaleString('en');
  const what = `Distribution of a run of ${segmentCount} segments, ${segmentCount * usesEach} techniques, 0.1 s grid`;
  const simulation = (count: number, off: number): string =>
    `seeded simulation of ${size(count)} runs, chance off by ${off.toExponential(0)}`;
  const row = (name: string, own: readonly number[], other: string, sample: readonly number[]): Row => ({
    what: name,
    unit: 'ms',
    own,
    other: { name: other, sample },
  });
  const ofRuns = simulation(runs, Math.sqrt((chance * (1 - chance)) / runs));
  const ofEqual = `${simulation(needed, error)}, as the grid is (worked out from ${size(runs)} runs)`;
  return [
    row(what, samples.distribution, 'the same by direct convolution', samples.direct),
    row('the same', samples.distribution, ofRuns, samples.simulated),
    row('the same', samples.distribution, ofEqual, equal),
    row('… and its reset line', samples.line, ofEqual, equal),
    row('… and all other odds, from choosing what to try on', samples.odds, ofEqual, equal),
  ];
}
