/** The worth of each technique to the run as it is now, and to the run once other techniques are learned. */
import { runToCompletion, type Steps } from '../../incremental/steps.ts';
import { chooseBaseline, updateBaseline } from './baseline.ts';
import type { Constants } from '../core/constants.ts';
import type { RouteLayout } from './routeLayout.ts';
import type { ModelCache } from '../core/modelCache.ts';
import { compareCodeUnits } from '../core/numbers.ts';
import { interactionPartners } from './interactionPartners.ts';
import { choicesOfTechnique, affectedSegments, segmentCacheKeys } from './affectedSegments.ts';
import { valueTechnique, valueTechniqueInSteps } from './techniqueWorth.ts';
import type { TechniqueWorth } from './techniqueWorth.ts';

/** Mean landing rates in a run of techniques that are assumed to be learned. */
export type LearnedRates = ReadonlyMap<string, number>;

/** Values techniques, in seconds off V. */
export interface TechniqueValuer {
  /** Compared with the baseline. */
  readonly now: (technique: string) => TechniqueWorth;
  /** The same in steps. What it worked out, `now` then has at once. */
  readonly nowInSteps: (technique: string) => Steps<TechniqueWorth>;
  /**
   * Compared with the run that also uses the learned techniques. Only learned techniques that are partners of this
   * one are considered.
   */
  readonly afterLearning: (technique: string, learned: LearnedRates) => TechniqueWorth;
  readonly partners: (technique: string) => ReadonlySet<string>;
}

/** Whether two worths contain the same numbers. */
function sameWorth(a: TechniqueWorth, b: TechniqueWorth): boolean {
  const { saved: one, ...rest } = a;
  const { saved: other, ...others } = b;
  return (
    JSON.stringify(rest) === JSON.stringify(others) &&
    one.values.length === other.values.length &&
    one.values.every((value, i) => value === other.values[i])
  );
}

const noPartners: ReadonlySet<string> = new Set();

/**
 * Creates the valuer of a route.
 *
 * @param inRun mean landing rate in a run of each technique that is in the run, in order of id
 */
export function createTechniqueValuer(
  layout: RouteLayout,
  inRun: ReadonlyMap<string, number>,
  constants: Constants,
  cache: ModelCache,
): TechniqueValuer {
  const { shared } = cache;
  const rateNow = (technique: string): number => inRun.get(technique) ?? 0;
  const rates = JSON.stringify([...inRun]);
  const common = shared.getOrCompute('baseline', [layout, constants, rates], () =>
    chooseBaseline(layout, (t) => inRun.has(t), rateNow, constants),
  );
  // The cached worth of a technique stays valid after an edit elsewhere in the route that does not change the run.
  const { seconds, survival, clock } = common.state;
  const numbers = [common.played, seconds, survival, clock].map((a) => [...a]);
  const run = JSON.stringify([numbers, layout.restart, rates]);
  const texts = shared.getOrCompute('segment texts', [layout], () => segmentCacheKeys(layout));
  const around = (techniques: readonly string[]): string[] =>
    affectedSegments(
      layout,
      techniques.flatMap((t) => choicesOfTechnique(layout, t)),
    ).map((s) => texts[s]!);
  const partners = shared.getOrCompute('partners', [layout], () => interactionPartners(layout));
  const partnersOf = (technique: string): ReadonlySet<string> => partners.get(technique) ?? noPartners;
  const nowInSteps = function* (technique: string): Steps<TechniqueWorth> {
    const others = (t: string): boolean => t !== technique && inRun.has(t);
    const memory = cache.forTechnique(technique);
    const on = [constants, run, ...around([technique])];
    return yield* memory.getOrComputeInSteps('worth now', on, function* () {
      const base = inRun.has(technique)
        ? updateBaseline(layout, common, [technique], others, rateNow, constants)
        : common;
      const worth = yield* valueTechniqueInSteps(layout, technique, base, others, rateNow, constants);
      return memory.reuseIfEqual('worth', worth, sameWorth);
    });
  };
  const now = (technique: string): TechniqueWorth => runToCompletion(nowInSteps(technique));
  const once = (technique: string, learned: LearnedRates): TechniqueWorth => {
    const own = partnersOf(technique);
    const counting = [...learned].filter(([id]) => own.has(id) && !inRun.has(id));
    if (counting.length === 0 || inRun.has(technique)) return now(technique);
    counting.sort(([a], [b]) => compareCodeUnits(a, b));
    const then = new Map(counting);
    const ids = [...then.keys()];
    const memory = cache.forTechnique(technique);
    const name = `worth once ${ids.join(' ')}`;
    const on = [constants, run, ...then.values(), ...around([technique, ...ids])];
    return memory.getOrCompute(name, on, () => {
      const used = (t: string): boolean => inRun.has(t) || then.has(t);
      const rateThen = (t: string): number => then.get(t) ?? rateNow(t);
      // Techniques that are all partners of each other are valued after the same ones, one right after the other.
      const base = shared.getOrCompute('baseline once learned', [common, constants, ...counting.flat()], () =>
        updateBaseline(layout, common, ids, used, rateThen, constants),
      );
      const worth = valueTechnique(layout, technique, base, used, rateThen, constants);
      return memory.reuseIfEqual(`${name}, settled`, worth, sameWorth);
    });
  };
  return { now, nowInSteps, afterLearning: once, partners: partnersOf };
}
