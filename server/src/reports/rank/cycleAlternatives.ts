import type { ModelCache } from '../../model/core/modelCache.ts';
import type { Ranking } from '../../model/core/results.ts';
import { type CycleAlternative, rankWithCycle } from '../../model/rank/cycleAlternative.ts';
import type { ModelInput } from '../../queries/modelInput.ts';

/** A cycle that a technique could have. */
export interface TechniqueCycle {
  /** Id. */
  readonly technique: string;
  readonly seconds: number;
}

/** The ranking's rows with other cycles, in the order of `cycles`. Techniques that the route does not have are left out. */
export function cycleAlternatives(
  modelInput: ModelInput,
  ranking: Ranking,
  cycles: readonly TechniqueCycle[],
  cache: ModelCache,
): CycleAlternative[] {
  return cycles.flatMap(
    ({ technique, seconds }) => rankWithCycle(modelInput, ranking, technique, seconds, cache) ?? [],
  );
}
