/** The objective of beating a target time. */
import { runToCompletion, type Steps } from '../../../incremental/steps.ts';
import type { RateTable } from '../../core/rateTable.ts';
import type { PreparedModel, RankInput } from '../../run/preparedModel.ts';
import { neverReset } from '../../run/resetLine.ts';
import type { LandingRateOf } from '../../run/runState.ts';
import { buildTargetBaselineInSteps, targetWorthInSteps } from '../../run/targetWorth.ts';
import type { TargetWorth } from '../../run/targetWorth.ts';
import type { TechniqueValuer } from '../../run/techniqueValuer.ts';
import type { TechniqueWorth } from '../../run/techniqueWorth.ts';
import type { Objective, ObjectiveValuation } from './objective.ts';

/**
 * Smallest chance that a ranking can use. If the chance stays below it with every technique, the ranking is by time
 * instead.
 */
const minTargetChance = 1e-6;

/** The rise in the chance to beat the target in an hour of runs. */
export const target: Objective = {
  id: 'target',
  needs: 'target',
  meaning: 'the chance of beating the target in an hour of runs',
  choiceLabel: (time) => `chance of beating ${time}`,
  gain: {
    scale: 100,
    symbol: 'pp',
    word: 'percentage points',
    perHour: 'points per hour',
    jsonUnit: '1/h',
    definition:
      'Gain: percentage points (pp) by which the chance of beating the target in an hour of runs rises for each hour of practice',
    axisLabel: 'Percentage points of chance gained per hour of practice',
    expected: (gain) => `Expected to raise the chance of beating the target in an hour of runs by ${gain}`,
  },
  targetText: (time, chance, ranked) =>
    ranked
      ? `Ranked by the chance of beating ${time} in an hour of runs, ${chance} now.`
      : `${time} is out of reach for now: with any one technique more, the chance of beating it in an hour of runs stays under one in a million. Ranked by the expected time of a run instead.`,
  valueInSteps: (input, prepared) => valueByTarget(input, prepared, input.options.target!),
};

/**
 * The worth of each technique as the rise in the chance to beat `seconds` in an hour of runs. Runs are reset either
 * by today's best line or never, depending on which gives the technique the greater worth: if the target is out of
 * reach without the technique, today's line resets almost every run, because only luck could still beat the target.
 * A technique that lowers V at no rate has no worth here either.
 */
function* valueByTarget(
  input: RankInput,
  prepared: PreparedModel,
  seconds: number,
): Steps<ObjectiveValuation> {
  const { shared, inRun, layout, constants } = prepared;
  const rates = JSON.stringify([...inRun]);
  const on = [layout, constants, rates, seconds];
  const [withLine, open] = yield* shared.getOrComputeInSteps('target bases', on, function* () {
    const rateOf: LandingRateOf = (technique) => inRun.get(technique) ?? 0;
    const run = { route: input.route, tried: new Set(inRun.keys()), rateOf, target: seconds, constants };
    const best = yield* buildTargetBaselineInSteps(run);
    return [best, yield* buildTargetBaselineInSteps(run, neverReset(best.plan))] as const;
  });
  const valueInSteps = function* (technique: string): Steps<TechniqueWorth> {
    const worth = yield* prepared.valuer.nowInSteps(technique);
    const memo = prepared.fittedTechniques.get(technique)?.memory;
    if (worth.breakEven === null || memo === undefined) return worth;
    return yield* memo.getOrComputeInSteps('worth to the target', [withLine, worth], function* () {
      const lined = yield* targetWorthInSteps(withLine, technique);
      return { ...worth, saved: betterResetWorth(lined, yield* targetWorthInSteps(open, technique)) };
    });
  };
  const valueOf = (technique: string): TechniqueWorth => runToCompletion(valueInSteps(technique));
  // Even if the run cannot beat the target today, it may do so with one more technique.
  const bringsWithinReach = function* (id: string): Steps<boolean> {
    const { breakEven, saved } = yield* valueInSteps(id);
    return breakEven !== null && saved.values.some((rise) => rise >= minTargetChance);
  };
  let withinReach = withLine.now >= minTargetChance;
  for (const id of prepared.fittedTechniques.keys()) {
    if (withinReach) break;
    yield;
    withinReach = yield* bringsWithinReach(id);
  }
  // By this objective each technique is valued alone, because the run with other techniques learned would have
  // another reset line.
  const alone: TechniqueValuer = {
    now: valueOf,
    nowInSteps: valueInSteps,
    afterLearning: valueOf,
    partners: () => new Set(),
  };
  return { valuer: withinReach ? alone : null, target: { seconds, chance: withLine.now } };
}

/** At each landing rate, the better of the two ways to reset, compared with the chance without the technique. */
function betterResetWorth(withLine: TargetWorth, never: TargetWorth): RateTable {
  const without = Math.max(withLine.without, never.without);
  const values = withLine.rise.values.map((rise, i) =>
    Math.max(0, Math.max(withLine.without + rise, never.without + never.rise.values[i]!) - without),
  );
  return { ...withLine.rise, values };
}
