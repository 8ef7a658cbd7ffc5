/** The results of the model: plain data, no behaviour. Units as in types.ts. */
import type { Standing } from './standing.ts';
import type { Estimate } from './types.ts';

/** Techniques that are best practised together, because one needs another. Their rows follow one another in a ranking. */
export interface PracticePackage {
  /** Gain per hour of the practice of all of them. No later row or package gains more. */
  readonly gainPerHour: number;
  /** Blocks and hours in all. */
  readonly blocks: number;
  readonly hours: number;
  /** Techniques, in the order of practice. */
  readonly members: readonly string[];
  /** Techniques of earlier rows that get further blocks in this package. */
  readonly further: readonly string[];
}

/** One technique of a ranking. Gains are in the objective's unit before scaling: seconds of V, or a chance from 0 to 1. */
export interface RankRow {
  readonly technique: string;
  /** Gain per hour of practice at the best stopping point, with its 10 % and 90 % quantiles in `low` and `high`. */
  readonly gainPerHour: number;
  readonly low: number;
  readonly high: number;
  /** Daily blocks, their length, and hours in all, to the best stopping point. */
  readonly blocks: number;
  readonly blockMinutes: number;
  readonly hours: number;
  /** Gain after those hours. */
  readonly gain: number;
  /**
   * Landing rate in a run above which trying the technique is better than the next best choice; null if it is
   * better at no rate.
   */
  readonly breakEven: number | null;
  readonly practiceNow: Estimate;
  readonly runNow: Estimate;
  readonly runThen: Estimate;
  /** Hours of practice until the technique is competent, as quantiles; null if that is beyond the horizon. */
  readonly hoursToCompetent: {
    readonly p10: number | null;
    readonly p50: number | null;
    readonly p90: number | null;
  };
  /** Chance that the landing rate in a run is above break-even after the practice. */
  readonly chanceCompetent: number;
  /** Chance that this row has the highest gain per hour of all rows, each at its own hours. */
  readonly chanceBest: number;
  /** Techniques practised together with this one in the best closed set (its needs, or what it opens). */
  readonly opensWith: readonly string[];
  /** Techniques that must be practised before it: needs that are not ready, and what picks up a missing item. */
  readonly openNeeds: readonly string[];
  /** The techniques that it is practised with, as a whole; null if it is practised alone. */
  readonly package: PracticePackage | null;
  /**
   * What a second of the clock lost to resets counts, in seconds of a finished run, where the break-even rests on it;
   * null if no miss of the technique ends the run.
   */
  readonly resetWeight: number | null;
  /** How many other runners' practice counts in it; left out where nobody else's does. */
  readonly otherRunners?: number;
  /** Why the technique has this place in the ranking, in one sentence. Ids of techniques are in backquotes. */
  readonly reason: string;
}

/** A time to beat, and the chance to beat it today. */
export interface TargetChance {
  /** Seconds to beat. */
  readonly seconds: number;
  /** Chance to beat it in an hour of runs with the techniques that are in the run now and the best reset line. */
  readonly chance: number;
  /**
   * Whether the ranking is by that chance. It is by time instead if no single technique raises the chance above one
   * in a million.
   */
  readonly ranked: boolean;
}

/** What the logs tell of the runner, for all techniques. */
export interface RunnerSummary {
  /** How much earlier techniques come than their difficulties say, in ln(1 + E/unit). */
  readonly offset: Estimate;
  /** Log odds lost under pressure in a run. */
  readonly pressure: Estimate;
  /** How much a step of difficulty counts for the runner, as a share of what is usual. */
  readonly step: number;
}

export interface Ranking {
  /** Id of the objective that the gains are measured by. */
  readonly objective: string;
  /** Best first. */
  readonly rows: readonly RankRow[];
  readonly skipped: readonly { readonly technique: string; readonly reason: string }[];
  /** Where each technique stands, in order of id. */
  readonly standings: readonly Standing[];
  /** The time to beat, if the requested objective needs one; otherwise null. */
  readonly target: TargetChance | null;
  readonly runner: RunnerSummary;
}

/** How well one technique lands today, without any forecast. */
export interface Assessment {
  readonly standing: Standing;
  readonly practiceNow: Estimate;
  readonly runNow: Estimate;
  /** As in {@link RankRow}. */
  readonly breakEven: number | null;
  readonly resetWeight: number | null;
  /** Chance that the landing rate in a run is above break-even today. */
  readonly chanceAboveBreakEvenNow: number;
}
