/**
 * Finds which technique picks up an item that another technique needs. That technique is learned first, like a
 * need.
 */
import type { Steps } from '../../incremental/steps.ts';
import { itemProviders } from '../standing/needs.ts';
import { expectationInRun, practiceLogits } from '../skill/rateEstimates.ts';
import { blocksToReady, gainCurve } from '../skill/forecast.ts';
import type { PracticeLevels } from '../skill/forecast.ts';
import type { PreparedModel, FittedTechnique } from '../run/preparedModel.ts';
import type { TechniqueValuer } from '../run/techniqueValuer.ts';
import type { TechniqueWorth } from '../run/techniqueWorth.ts';

/** The provider for a technique whose item is not picked up yet. */
interface ProviderChoice {
  readonly provider: string;
  /** Blocks of practice of the provider before the technique, and the worth of the technique after them. */
  readonly blocks: number;
  readonly worth: TechniqueWorth;
}

/** Numbers of further blocks of a provider that are tried, after it is ready. */
const providerBlocks = [0, 1, 2, 4, 7, 11, 16, 22];

/**
 * For each technique that needs an item which no technique in the run picks up: the provider, and its number of
 * blocks, with which the two gain most per hour. The provider must be ready before the technique is practised, like
 * a need.
 */
export function* bestItemProvidersInSteps(
  prepared: PreparedModel,
  valuer: TechniqueValuer,
  worths: ReadonlyMap<string, TechniqueWorth>,
  levels: ReadonlyMap<string, PracticeLevels>,
  readyAt: ReadonlyMap<string, number | null>,
): Steps<Map<string, ProviderChoice>> {
  const { fittedTechniques: subjects, layout, constants } = prepared;
  const found = new Map<string, ProviderChoice>();
  for (const [id, worth] of worths) {
    const [item, another] = worth.missingItems;
    // Only one missing item can be provided; if a second one is missing, there is nothing to gain yet.
    if (item === undefined || another !== undefined || worth.breakEven !== null) continue;
    const user = subjects.get(id)!;
    let best: { rate: number; provided: ProviderChoice } | undefined;
    for (const provider of itemProviders(layout, item)) {
      const subject = subjects.get(provider);
      if (subject === undefined || provider === id || !worths.has(provider)) continue;
      const ahead = levels.get(provider)!;
      const ready = readyAt.get(provider) ?? blocksToReady(subject.posterior, ahead, constants);
      if (ready === null) continue;
      for (const more of providerBlocks) {
        const blocks = ready + more;
        if (blocks >= ahead.practised.length) break;
        const learned = new Map([[provider, runRateAfter(prepared, subject, ahead, blocks)]]);
        const then = valuer.afterLearning(id, learned);
        yield;
        if (then.breakEven === null) continue;
        const gains = gainCurve(user.posterior, levels.get(id)!, then.saved);
        const rate = gains.reduce(
          (most, gain, n) => (n === 0 ? most : Math.max(most, gain / (n + blocks))),
          0,
        );
        if (rate > (best?.rate ?? 0)) best = { rate, provided: { provider, blocks, worth: then } };
      }
    }
    if (best !== undefined) found.set(id, best.provided);
  }
  return found;
}

/** Mean landing rate in a run after some daily blocks. */
export function runRateAfter(
  prepared: PreparedModel,
  subject: FittedTechnique,
  levels: PracticeLevels,
  blocks: number,
): number {
  const { posterior, memory } = subject;
  return memory.getOrCompute(`rate after ${blocks}`, [posterior, levels, prepared.rates], () =>
    expectationInRun(posterior, practiceLogits(posterior, levels.practised[blocks]!), prepared.rates),
  );
}
