/**
 * The average effect on the run of trying a technique in one place: seconds saved, and the chance that the run
 * survives.
 */
import { clamp, finiteOr } from '../core/numbers.ts';
import type { UseModel } from '../core/types.ts';

/** The average effect of trying once (with its retries and its backup). */
export interface AverageEffect {
  /**
   * Mean seconds saved compared with the safe way, over the tries that the run survives; negative if trying costs
   * time.
   */
  readonly seconds: number;
  /** Chance that the run goes on. */
  readonly survival: number;
  /** Chance that the technique itself (not its backup) lands, at any of the tries. */
  readonly lands: number;
  /** The part of the mean seconds that comes from those landings: the seconds they save, times their chance. */
  readonly landedSeconds: number;
}

/** A use with its numbers limited to the valid range and its misses summarised. */
export interface UseSummary {
  readonly saves: number;
  /** Share of the misses that end the run. */
  readonly endShare: number;
  /** Mean seconds lost by a miss that does not end the run. */
  readonly loses: number;
  readonly retrySeconds: number;
  readonly tries: number;
  /** Seconds it costs to pick up its item. */
  readonly costs: number;
}

/** Largest number of tries in a row; more are not counted. */
const mostTries = 1000;

/**
 * Summarises a use. Shares of misses that do not add up to 1 are scaled; if no misses are given, a miss costs
 * nothing.
 */
export function summarizeUse(use: UseModel): UseSummary {
  let total = 0;
  let ending = 0;
  let lost = 0;
  for (const miss of use.misses) {
    const chance = Math.max(0, finiteOr(miss.chance, 0));
    total += chance;
    if (miss.endsRun) ending += chance;
    else lost += chance * finiteOr(miss.loses, 0);
  }
  const going = total - ending;
  return {
    saves: finiteOr(use.saves.mean, 0),
    endShare: total > 0 ? ending / total : 0,
    loses: going > 0 ? lost / going : 0,
    retrySeconds: finiteOr(use.retrySeconds, 0),
    tries: Math.floor(clamp(use.maxTries, 1, mostTries)),
    costs: use.take === undefined ? 0 : finiteOr(use.costs, 0),
  };
}

/**
 * The average effect at landing rate `rate` (0 to 1).
 *
 * A miss that does not end the run is tried again at `retrySeconds` while tries remain; the last one costs `loses`,
 * and then the backup, if any, is tried at once.
 *
 * @example
 * const vault = { saves: 8, endShare: 0, loses: 4, retrySeconds: 0, tries: 1, costs: 0 };
 * averageEffect(vault, 0.5) // { seconds: 2, survival: 1, lands: 0.5, landedSeconds: 4 }
 * averageEffect(vault, 1 / 3).seconds // 0.00
 */
export function averageEffect(use: UseSummary, rate: number, backup?: AverageEffect): AverageEffect {
  let reached = 1;
  let seconds = 0;
  let lands = 0;
  let spent = use.costs;
  for (let n = 1; ; n++) {
    lands += reached * rate;
    seconds += reached * rate * (use.saves - spent);
    reached *= (1 - rate) * (1 - use.endShare);
    if (n >= use.tries || reached < 1e-12) break;
    spent += use.retrySeconds;
  }
  const landedSeconds = seconds;
  const after = backup?.survival ?? 1;
  seconds += reached * after * ((backup?.seconds ?? 0) - use.loses - spent);
  const survival = lands + reached * after;
  return { seconds: survival > 0 ? seconds / survival : 0, survival, lands, landedSeconds };
}
