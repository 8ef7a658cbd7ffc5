import { ModelCache } from '../../model/core/modelCache.ts';
import { rank } from '../../model/index.ts';
import type { CycleAlternative } from '../../model/rank/cycleAlternative.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { cycleAlternatives, type TechniqueCycle } from './cycleAlternatives.ts';
import { rankReport } from './rankReport.ts';

/** A ranking, and rows of it with other cycles. */
export interface RankingWithCycles {
  readonly report: RankReport;
  readonly alternatives: readonly CycleAlternative[];
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
    report: rankReport(ranking, modelInput.asOfDay, names),
  };
}
