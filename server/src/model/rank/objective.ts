/** What practice is to serve: the expected time of a run, or the chance to beat a target. */
import type { PreparedModel, RankInput } from '../run/preparedModel.ts';
import { neverReset } from '../run/resetLine.ts';
import type { LandingRateOf } from '../run/runState.ts';
import type { RateTable } from '../core/rateTable.ts';
import { buildTargetBaseline, targetWorth } from '../run/targetWorth.ts';
import type { TargetWorth } from '../run/targetWorth.ts';
import type { TargetObjective } from '../core/types.ts';
import type { TechniqueValuer } from '../run/techniqueValuer.ts';
import type { TechniqueWorth } from '../run/techniqueWorth.ts';

/** The least chance that can be ranked by: below it for every technique, time is taken in its place. */
export const minTargetChance = 1e-6;

/** What a ranking goes by. */
export interface Objective {
  readonly valuer: TechniqueValuer;
  /** Null where no target was asked for. */
  readonly target: TargetObjective | null;
}

/**
 * The worth of each technique by the objective asked for: seconds off V, or the rise in the chance to beat the target
 * in an hour of runs. For that, runs are reset by the line that is best now or never, whichever serves the technique
 * better: where a target is out of reach without it, the line of today gives up almost every run, for luck alone can
 * beat it. A technique that lowers V nowhere is worth nothing to either.
 */
export function buildObjective(input: RankInput, prepared: PreparedModel): Objective {
  const { target } = input.options;
  if (target === undefined) return { valuer: prepared.valuer, target: null };
  const { shared, inRun, course, constants } = prepared;
  const rates = JSON.stringify([...inRun]);
  const [base, open] = shared.getOrCompute('target bases', [course, constants, rates, target], () => {
    const rateOf: LandingRateOf = (technique) => inRun.get(technique) ?? 0;
    const asked = { route: input.route, tried: new Set(inRun.keys()), rateOf, target, constants };
    const best = buildTargetBaseline(asked);
    return [best, buildTargetBaseline(asked, neverReset(best.plan))] as const;
  });
  const valueOf = (technique: string): TechniqueWorth => {
    const worth = prepared.valuer.now(technique);
    const memory = prepared.fittedTechniques.get(technique)?.memory;
    if (worth.breakEven === null || memory === undefined) return worth;
    return memory.getOrCompute('worth to the target', [base, worth], () => ({
      ...worth,
      saved: betterResetWorth(targetWorth(base, technique), targetWorth(open, technique)),
    }));
  };
  // A run that cannot beat the target today may with one technique more.
  const within = (id: string): boolean => {
    const { breakEven, saved } = valueOf(id);
    return breakEven !== null && saved.values.some((rise) => rise >= minTargetChance);
  };
  const ranked = base.now >= minTargetChance || [...prepared.fittedTechniques.keys()].some(within);
  const stands = { seconds: target, chance: base.now, ranked };
  // By a target each technique is valued alone: the run with others learned would have another line.
  const alone: TechniqueValuer = { now: valueOf, afterLearning: valueOf, partners: () => new Set() };
  return { valuer: ranked ? alone : prepared.valuer, target: stands };
}

/** At each landing rate the better of two ways to reset, against the chance without the technique. */
function betterResetWorth(held: TargetWorth, never: TargetWorth): RateTable {
  const without = Math.max(held.without, never.without);
  const values = held.rise.values.map((rise, i) =>
    Math.max(0, Math.max(held.without + rise, never.without + never.rise.values[i]!) - without),
  );
  return { ...held.rise, values };
}
