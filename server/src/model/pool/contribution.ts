/**
 * What one runner's practice says of a technique to others: for each place that the technique's common part may have, how well it
 * explains what was counted.
 *
 * The runner's own pace, loss under pressure and kind of learner are taken as their other techniques show them, so that a
 * technique is told from the rest of the runner, and integrated out. Numbers are rounded to whole tenths of a logarithm before they are
 * added up: sums of whole numbers do not depend on the order. It hides little of one runner: what hides them is the sum with others.
 */
import { runnerPriorOf } from '../run/preparedModel.ts';
import type { FittedTechnique, PreparedModel } from '../run/preparedModel.ts';
import type { Constants } from '../core/constants.ts';
import { clamp } from '../core/numbers.ts';
import type { Evidence } from '../skill/evidence.ts';
import type { CurveGrid } from '../skill/curveGrid.ts';
import type { RunnerPrior } from '../skill/runnerPrior.ts';
import { lossPrior } from '../skill/runnerPosterior.ts';
import { midwayMean, slotPrior } from '../skill/slotPrior.ts';
import { forEachShare, lossPlaces, midwayPlaces, perLog } from './commonParts.ts';
import type { PooledTechnique } from './pooledTechnique.ts';

/** One runner's part of a number is at most this far from 0, in natural logarithms: nobody outvotes all others. */
export const most = 8;

/**
 * What a runner says of each technique that they practised. Techniques that were in their runs before the logs began say too little of
 * how they were learned and are left out.
 *
 * @param prepared the runner's logs, estimated with the usual constants and without any pool
 * @returns by technique, as a pool of this one runner
 */
export function contributionsOf(prepared: PreparedModel): Map<string, PooledTechnique> {
  const found = new Map<string, PooledTechnique>();
  let number = 0;
  for (const [id, fitted] of prepared.fittedTechniques) {
    const runnerPrior = runnerPriorOf(prepared, number++);
    const { evidence, history } = fitted;
    if (evidence === null || history.headStart || !history.days.some((day) => !day.inRun)) continue;
    found.set(id, contributionOf(fitted, evidence, runnerPrior, prepared));
  }
  return found;
}

function contributionOf(
  fitted: FittedTechnique,
  evidence: Evidence,
  runnerPrior: RunnerPrior,
  { constants, losses }: PreparedModel,
): PooledTechnique {
  const { technique, prior, posterior } = fitted;
  const { grid } = posterior;
  const counted = countedBySlot(evidence, runnerPrior.learners);
  const width = losses.count;
  const bySlot = averageAlong(counted, prior, grid.slots, width, 'slot');
  const rated = midwayMean({ difficulty: technique.difficulty }, runnerPrior.offset.mean, constants);
  const midwayAt = (place: number, share: number): number =>
    weightedSum(
      slotPrior(
        grid,
        rated + place,
        Math.hypot(Math.sqrt(1 - share) * constants.midwaySd, runnerPrior.offset.sd),
      ),
      bySlot,
    );
  const pooled = {
    runners: 1,
    difficulty: technique.difficulty,
    midway: forEachShare((share) =>
      againstNone(midwayPlaces, (place) => midwayAt(place, share), midwayAt(0, 0)),
    ),
    ...shapesOf(fitted, constants),
  };
  if (evidence.runs === null) return pooled;
  const byLoss = averageAlong(counted, prior, grid.slots, width, 'loss');
  const lossAt = (place: number, share: number): number =>
    weightedSum(
      lossPrior(
        losses,
        runnerPrior.pressure.mean + place,
        Math.hypot(Math.sqrt(1 - share) * constants.ownPressureSd, runnerPrior.pressure.sd),
      ),
      byLoss,
    );
  return {
    ...pooled,
    loss: forEachShare((share) => againstNone(lossPlaces, (place) => lossAt(place, share), lossAt(0, 0))),
  };
}

/** The log weight of each place against that of nothing in common, in whole parts. */
function againstNone(places: readonly number[], weightAt: (place: number) => number, none: number): number[] {
  return places.map((place) => inParts(Math.log(weightAt(place) / none)));
}

/** A logarithm in whole parts. One that is no number (nothing explains the counts) says nothing. */
function inParts(log: number): number {
  return Number.isNaN(log) ? 0 : Math.round(perLog * clamp(log, -most, most)) + 0;
}

/** The likelihood of the counts in each slot (and at each loss, where runs were counted), for a runner of these kinds. */
function countedBySlot({ bySlot }: Evidence, learners: readonly number[]): Float64Array {
  const sum = new Float64Array(bySlot[0]?.length ?? 0);
  bySlot.forEach((of, kind) => {
    for (let i = 0; i < sum.length; i++) sum[i]! += learners[kind]! * of[i]!;
  });
  return sum;
}

/** The likelihood at each slot or at each loss, averaged over the other by the prior. */
function averageAlong(
  counted: Float64Array,
  prior: Float64Array,
  slots: number,
  width: number,
  along: 'slot' | 'loss',
): Float64Array {
  const withRuns = counted.length > slots;
  const sums = new Float64Array(along === 'slot' ? slots : width);
  const weights = new Float64Array(sums.length);
  for (let slot = 0; slot < slots; slot++) {
    for (let j = 0; j < width; j++) {
      const at = along === 'slot' ? slot : j;
      const weight = prior[slot * width + j]!;
      weights[at]! += weight;
      sums[at]! += weight * counted[withRuns ? slot * width + j : slot]!;
    }
  }
  return sums.map((sum, i) => (weights[i]! > 0 ? sum / weights[i]! : 0));
}

function weightedSum(weights: Float64Array, values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i++) sum += weights[i]! * values[i]!;
  return sum;
}

/** For suddenness and the bands of ceiling and floor: how much more likely the counts make each than it was for this runner. */
function shapesOf(
  { posterior: { grid, curves, mass } }: FittedTechnique,
  constants: Constants,
): Pick<PooledTechnique, 'suddenness' | 'ceiling' | 'floor'> {
  const classes = {
    suddenness: { of: suddennessNumbers(grid), count: constants.steepness.length + 1 },
    ceiling: { of: grid.ceilingBand, count: constants.ceilings.length },
    floor: { of: grid.floorBand, count: constants.floors.length },
  };
  const partsOf = ({ of, count }: { readonly of: Uint8Array; readonly count: number }) => {
    const before = new Float64Array(count);
    const now = new Float64Array(count);
    grid.curveWeight.forEach((weight, curve) => {
      before[of[curve]!]! += weight * slotWeight(grid, curve);
    });
    curves.forEach((curve, i) => {
      now[of[curve]!]! += mass[i]!;
    });
    const all = before.reduce((a, b) => a + b, 0);
    return forEachShare((share) =>
      Array.from(before, (weight, i) =>
        weight > 0 ? inParts(Math.log(share * ((now[i]! * all) / weight) + 1 - share)) : 0,
      ),
    );
  };
  return {
    suddenness: partsOf(classes.suddenness),
    ceiling: partsOf(classes.ceiling),
    floor: partsOf(classes.floor),
  };
}

/** A curve's share of its layout of half-way points, if all were as likely. */
function slotWeight({ curveSlot, slotFrom, slotTo }: CurveGrid, curve: number): number {
  const slot = curveSlot[curve]!;
  return 1 / (slotTo[slot]! - slotFrom[slot]!);
}

/** The number of each curve's suddenness. */
function suddennessNumbers({ curves, shapes, pairSteepness }: CurveGrid): Uint8Array {
  const known = [...new Set(pairSteepness)];
  return Uint8Array.from({ length: curves }, (_, curve) =>
    known.indexOf(pairSteepness[Math.floor(curve / shapes)]!),
  );
}
