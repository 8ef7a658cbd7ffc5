/** Computes the rank of a technique if its cycle were different, for example shorter because of a new save state. */
import { cycleSeconds } from '../skill/practiceHistory.ts';
import { overridePace } from '../skill/logAnalysis.ts';
import { ModelCache } from '../core/modelCache.ts';
import { prepareModel } from '../run/preparedModel.ts';
import type { FittedTechnique, PreparedModel, RankInput } from '../run/preparedModel.ts';
import { rank } from './rank.ts';
import { orderPrepared } from './rankingOrder.ts';
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

/** A cycle from this length on, in seconds, is worth a look at a quicker repeat. */
const longCycle = 15;

/** A quicker repeat is named where it brings a technique into this many first places. */
const firstPlaces = 3;

/**
 * The cycle with half the time from one attempt to the next, in seconds: a state saved nearer to the hard part. Never
 * shorter than the attempt itself; null where the cycle is short already or is hardly longer than the attempt.
 */
export function quickerCycle(technique: TechniqueModel): number | null {
  const cycle = cycleSeconds(technique);
  const quicker = Math.max(cycle / 2, Math.min(technique.attemptSeconds, cycle));
  return cycle >= longCycle && quicker < 0.9 * cycle ? quicker : null;
}

/**
 * The techniques with a cycle of 15 s or more that a quicker repeat would bring into the first three places, best
 * first. Only the order of the others is computed, so a long route costs little.
 *
 * @param now the ranking of the same input
 * @param only one technique to look at; all if omitted
 */
export function quickerRepeats(
  input: RankInput,
  now: Ranking,
  cache = new ModelCache(),
  only?: string,
): readonly CycleAlternative[] {
  const prepared = prepareModel(input, cache);
  const found = now.rows.slice(firstPlaces).flatMap(({ technique }) => {
    const fitted = prepared.fittedTechniques.get(technique);
    if (only !== undefined && technique !== only) return [];
    const seconds = fitted && quickerCycle(fitted.technique);
    if (!fitted || typeof seconds !== 'number') return [];
    const pace = paceAtCycle(fitted.history.pace, fitted.technique, seconds);
    const order = orderPrepared(input, withPace(prepared, fitted, pace)).ranked;
    const place = order.findIndex(({ candidate }) => candidate.id === technique);
    if (place < 0 || place >= firstPlaces) return [];
    return rankWithCycle(input, now, technique, seconds, cache) ?? [];
  });
  return found.sort((a, b) => (a.then?.place ?? Infinity) - (b.then?.place ?? Infinity));
}

/** The model with another pace for the future blocks of one technique. */
function withPace(prepared: PreparedModel, fitted: FittedTechnique, pace: number): PreparedModel {
  const altered = { ...fitted, history: { ...fitted.history, pace }, memory: fitted.memory.copy() };
  return {
    ...prepared,
    fittedTechniques: new Map(prepared.fittedTechniques).set(fitted.technique.id, altered),
  };
}

function rankedRow({ rows }: Ranking, technique: string): RankedRow | null {
  const index = rows.findIndex((row) => row.technique === technique);
  return index < 0 ? null : { place: index + 1, row: rows[index]! };
}
