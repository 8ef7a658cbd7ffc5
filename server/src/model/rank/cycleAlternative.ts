/** Computes the rank of a technique if its cycle were different, for example shorter because of a new save state. */
import { cycleSeconds } from '../skill/practiceHistory.ts';
import { overridePace } from '../skill/logAnalysis.ts';
import { ModelCache } from '../core/modelCache.ts';
import { prepareModel } from '../run/preparedModel.ts';
import type { RankInput } from '../run/preparedModel.ts';
import { rank } from './rank.ts';
import type { TechniqueModel } from '../core/types.ts';
import type { RankRow, Ranking } from '../core/results.ts';

/** The rank of a technique with another cycle. */
export interface CycleAlternative {
  readonly technique: string;
  /** Seconds from one attempt's start to the next. */
  readonly cycle: { readonly now: number; readonly then: number };
  /** Attempts per minute of practice. */
  readonly pace: { readonly now: number; readonly then: number };
  /** Its row with that cycle, and its place in the ranking (1 is the first); null if it is not ranked. */
  readonly now: RankedRow | null;
  readonly then: RankedRow | null;
}

export interface RankedRow {
  readonly place: number;
  readonly row: RankRow;
}

/** Shortest cycle that can be planned with, seconds. */
const shortestCycle = 0.5;

/**
 * Attempts per minute with another cycle. The extra seconds per attempt in the runner's own pace (shaking out a
 * hand, looking at the clock) stay the same; a pace faster than the cycle is scaled with it.
 */
export function paceAtCycle(pace: number, technique: TechniqueModel, seconds: number): number {
  const cycle = cycleSeconds(technique);
  const each = 60 / Math.max(pace, 1e-9);
  const then = Math.max(seconds, shortestCycle);
  return each >= cycle ? 60 / (then + each - cycle) : 60 / (each * (then / cycle));
}

/**
 * Ranks again with a cycle of `seconds` for one technique. Past practice is unchanged; only the number of attempts
 * in future blocks is different.
 *
 * @param now the ranking of the same input with the current cycle
 * @returns undefined where the route has no such technique
 */
export function rankWithCycle(
  input: RankInput,
  now: Ranking,
  technique: string,
  seconds: number,
  cache = new ModelCache(),
): CycleAlternative | undefined {
  const model = input.route.techniques.find(({ id }) => id === technique);
  if (model === undefined) return undefined;
  const usual = prepareModel(input, cache).fittedTechniques.get(technique)?.history.pace;
  if (usual === undefined) return undefined;
  const pace = { now: usual, then: paceAtCycle(usual, model, seconds) };
  // The cached analysis of its log, with another pace for future blocks. The caller's own cache is not changed.
  const altered = cache.copy();
  overridePace(altered, technique, pace.then);
  return {
    technique,
    cycle: { now: cycleSeconds(model), then: Math.max(seconds, shortestCycle) },
    pace,
    now: rankedRow(now, technique),
    then: rankedRow(rank(input, altered), technique),
  };
}

function rankedRow({ rows }: Ranking, technique: string): RankedRow | null {
  const index = rows.findIndex((row) => row.technique === technique);
  return index < 0 ? null : { place: index + 1, row: rows[index]! };
}
