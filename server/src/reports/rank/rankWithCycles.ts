import { ModelCache } from '../../model/core/modelCache.ts';
import { rank } from '../../model/index.ts';
import { quickerRepeats, type CycleAlternative } from '../../model/rank/cycleAlternative.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { cycleAlternatives, type TechniqueCycle } from './cycleAlternatives.ts';
import { rankReport } from './rankReport.ts';

/** A ranking, and rows of it with other cycles. */
export interface RankingWithCycles {
  readonly report: RankReport;
  readonly alternatives: readonly CycleAlternative[];
  /** Techniques with a long cycle that a quicker repeat would bring into the first places; those of `alternatives` are left out. */
  readonly quickerRepeats: readonly CycleAlternative[];
}

/** Ranks the techniques, and each of `cycles` a second time with its other cycle. */
export function rankWithCycles(
  modelInput: ModelInput,
  names: ReadonlyMap<string, string>,
  cycles: readonly TechniqueCycle[],
): RankingWithCycles {
  const cache = new ModelCache();
  const ranking = rank(modelInput, cache);
  return {
    alternatives: cycleAlternatives(modelInput, ranking, cycles, cache),
    quickerRepeats: quickerRepeats(modelInput, ranking, cache).filter(
      (one) => !cycles.some(({ technique }) => technique === one.technique),
    ),
    report: rankReport(ranking, modelInput.asOfDay, names),
  };
}
