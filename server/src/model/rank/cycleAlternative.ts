/** What the rank of a technique becomes where its attempts come round quicker, a save state found, say. */
import { cycleSeconds } from '../skill/practiceHistory.ts';
import { overridePace } from '../skill/logAnalysis.ts';
import { ModelCache } from '../core/modelCache.ts';
import { prepareModel } from '../run/preparedModel.ts';
import type { RankInput } from '../run/preparedModel.ts';
import { rank } from './rank.ts';
import type { RankRow, Ranking, TechniqueModel } from '../core/types.ts';

/** A technique at another cycle. */
export interface CycleAlternative {
  readonly technique: string;
  /** Seconds from one attempt's start to the next. */
  readonly cycle: { readonly now: number; readonly then: number };
  /** Attempts a minute of practice. */
  readonly pace: { readonly now: number; readonly then: number };
  /** Its row at that cycle, and its place in the ranking (1 is the first); null where it is not ranked. */
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
 * Attempts a minute at another cycle. What the runner's own pace loses beside the cycle (shaking out a hand, looking
 * at the clock) stays as it is; a pace faster than the cycle is scaled with it.
 */
export function paceAtCycle(pace: number, technique: TechniqueModel, seconds: number): number {
  const cycle = cycleSeconds(technique);
  const each = 60 / Math.max(pace, 1e-9);
  const then = Math.max(seconds, shortestCycle);
  return each >= cycle ? 60 / (then + each - cycle) : 60 / (each * (then / cycle));
}

/**
 * Ranks again with one technique's attempts coming round in `seconds`. What was practised so far stays as it was:
 * only blocks to come hold more attempts.
 *
 * @param now the ranking as it is, of the same input
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
  // What is remembered of its log, but for the pace of blocks to come; the caller's own cache stays as it is.
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
