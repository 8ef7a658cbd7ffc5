/** What picks up the items that a technique wants: it is learned first, as a need is. */
import type { Course } from '../run/routeLayout.ts';
import { expectInRun, practiceLogits } from '../skill/rateEstimates.ts';
import { blocksToReady, gainCurve } from '../skill/forecast.ts';
import type { Levels } from '../skill/forecast.ts';
import type { Prepared, Subject } from '../run/preparedModel.ts';
import type { Valuer } from '../run/techniqueValuer.ts';
import type { TechniqueWorth } from '../run/techniqueWorth.ts';

/** The techniques that can pick up an item in a use of their own. */
function providersOf({ choices }: Course, item: string): string[] {
  const found = new Set<string>();
  for (const { options } of choices)
    for (const { use, technique, backup } of options)
      if (use.take === item && backup === null) found.add(technique);
  return [...found].sort();
}

/** A technique whose item is not picked up yet, with what would. */
interface Provided {
  readonly provider: string;
  /** Blocks that the provider is practised first, and what the technique is worth once it has been. */
  readonly blocks: number;
  readonly worth: TechniqueWorth;
}

/** Blocks of a provider that are tried, beyond those it takes to be ready. */
const providerBlocks = [0, 1, 2, 4, 7, 11, 16, 22];

/**
 * For each technique that wants an item which nothing in the run picks up: the provider, and the blocks of it, with
 * which the two gain most per hour. The pick-up must be ready, as a need must.
 */
export function withProviders(
  prepared: Prepared,
  valuer: Valuer,
  worths: ReadonlyMap<string, TechniqueWorth>,
  levels: ReadonlyMap<string, Levels>,
  readyAt: ReadonlyMap<string, number | null>,
): Map<string, Provided> {
  const { subjects, course, constants } = prepared;
  const found = new Map<string, Provided>();
  for (const [id, worth] of worths) {
    const [item, another] = worth.missingItems;
    // One item is provided for; with a second missing, too, there is nothing to gain yet.
    if (item === undefined || another !== undefined || worth.breakEven !== null) continue;
    const user = subjects.get(id)!;
    let best: { rate: number; provided: Provided } | undefined;
    for (const provider of providersOf(course, item)) {
      const subject = subjects.get(provider);
      if (subject === undefined || provider === id || !worths.has(provider)) continue;
      const ahead = levels.get(provider)!;
      const ready = readyAt.get(provider) ?? blocksToReady(subject.posterior, ahead, constants);
      if (ready === null) continue;
      for (const more of providerBlocks) {
        const blocks = ready + more;
        if (blocks >= ahead.practised.length) break;
        const learned = new Map([[provider, rateAfter(prepared, subject, ahead, blocks)]]);
        const then = valuer.once(id, learned);
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
export function rateAfter(prepared: Prepared, subject: Subject, levels: Levels, blocks: number): number {
  const { posterior, memory } = subject;
  return memory.recall(`rate after ${blocks}`, [posterior, levels, prepared.rates], () =>
    expectInRun(posterior, practiceLogits(posterior, levels.practised[blocks]!), prepared.rates),
  );
}
