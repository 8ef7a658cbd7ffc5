/**
 * The inputs and results of the model: plain data, no behaviour.
 *
 * Units: run times in seconds, practice in minutes, gaps in whole days, rates as fractions.
 */
import type { Standing } from './standing.ts';

/** One way a try can fail. The chances of all misses of a use sum to 1. */
export interface Miss {
  /** Share of all misses that happen in this way, 0 to 1. */
  readonly chance: number;
  /** Seconds lost compared with the safe way; 0 if this miss ends the run. */
  readonly loses: number;
  readonly endsRun: boolean;
}

/** One place where a technique is tried in the route. */
export interface UseModel {
  /** Unique in the route: the technique's id, or `technique@use`. */
  readonly id: string;
  readonly technique: string;
  /** In one run, at most one of the uses with the same spot can be played. */
  readonly spot?: string;
  /**
   * Seconds saved when it lands, with its set-up time already subtracted: the mean, and the standard deviation that
   * expresses how unsure the runner is of it.
   */
  readonly saves: { readonly mean: number; readonly sd: number };
  readonly misses: readonly Miss[];
  /** A technique tried at once after a miss that does not end the run. */
  readonly backup?: string;
  /** What the backup saves and how it misses here. If omitted, the numbers of the backup's own use apply. */
  readonly backupUse?: {
    readonly saves: { readonly mean: number; readonly sd: number };
    readonly misses: readonly Miss[];
  };
  /** Seconds each further try costs, and how many tries there are in all (1 = no retry). */
  readonly retrySeconds: number;
  readonly maxTries: number;
  /** Item picked up here (`costs` seconds), and item needed here. */
  readonly take?: string;
  readonly costs: number;
  readonly with?: string;
}

export interface SegmentModel {
  readonly id: string;
  /** Usual seconds with no technique of the route tried. */
  readonly time: number;
  /** Standard deviation of that time, seconds. */
  readonly spread: number;
  /** Chance that the run survives the segment when no technique is tried. */
  readonly survive: number;
  readonly luck: readonly { readonly chance: number; readonly adds: number }[];
  readonly uses: readonly UseModel[];
}

export type LearningState = 'unlearned' | 'learning' | 'in-run';

/** Where a technique stands. `server/src/model/standing/` works it out. */
export type StandingKind = 'left-out' | 'waiting' | 'again' | 'in-run' | 'learning' | 'aside' | 'not-begun';

export interface TechniqueModel {
  readonly id: string;
  /** 1 (easy) to 10. */
  readonly difficulty: number;
  /** Ids that must be ready before this one is practised. */
  readonly needs: readonly string[];
  /** Seconds of one attempt, and of the way back to its start. */
  readonly attemptSeconds: number;
  readonly reloadSeconds: number;
  /** What the runner says, or else what the logs show: whether it is tried in runs, practised or neither. */
  readonly state: LearningState;
  /** Whether the state is the runner's own word (false if omitted). */
  readonly stateWritten?: boolean;
}

export interface RouteModel {
  readonly segments: readonly SegmentModel[];
  readonly techniques: readonly TechniqueModel[];
  /** Seconds from a reset to the next start. */
  readonly restart: number;
}

/** How many tries were counted, and how many of them landed. */
export interface AttemptCount {
  readonly landed: number;
  readonly tries: number;
}

/** One logged block of practice of one technique. */
export interface PracticeEntry {
  readonly technique: string;
  /** Day number (days since 1970-01-01 on the runner's clock, a day ending at their night boundary). */
  readonly day: number;
  /** Order within all entries: entries of one day are applied in rising `order`. */
  readonly order: number;
  readonly minutes: number;
  /** Number of attempts, if logged; otherwise the model estimates it from the runner's pace. */
  readonly attempts?: number;
  /** The attempts whose results were counted; the likelihood uses these. They may be only a part of the block. */
  readonly counted?: AttemptCount;
}

/** Tries of one technique in one run or one evening of runs. */
export interface RunEntry {
  readonly technique: string;
  readonly day: number;
  readonly order: number;
  readonly counted: AttemptCount;
}

export interface Logs {
  readonly practice: readonly PracticeEntry[];
  readonly runs: readonly RunEntry[];
}

/** A mean with the 10 % and 90 % quantiles. */
export interface Estimate {
  readonly mean: number;
  readonly low: number;
  readonly high: number;
}

export interface RankOptions {
  /** Length of the daily block, minutes. */
  readonly blockMinutes: number;
  /** Required probability that the landing rate in a run is above break-even, 0 to 1. */
  readonly confidence: number;
  /** Whether to rank techniques that are already in the run, too. */
  readonly all: boolean;
  /**
   * Techniques that the runner does not want to practise. They are listed in `skipped`, and so are the techniques
   * that cannot be practised without them.
   */
  readonly leaveOut?: readonly string[];
  /**
   * Id of the objective: what the gains are measured by. The first objective is used if the id is omitted or
   * unknown, or if the objective needs a value that is missing.
   */
  readonly objective?: string;
  /** A time to beat, seconds, for an objective that needs one. */
  readonly target?: number;
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
  /** Why the technique has this place in the ranking, in one sentence. */
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
  /**
   * Estimates about the runner that apply to all techniques: the offset from the difficulty scale, and the log odds
   * lost under pressure in a run.
   */
  readonly runner: { readonly offset: Estimate; readonly pressure: Estimate };
}

/** How well one technique lands today, without any forecast. */
export interface Assessment {
  readonly standing: Standing;
  readonly practiceNow: Estimate;
  readonly runNow: Estimate;
  /** As in {@link RankRow}. */
  readonly breakEven: number | null;
  /** Chance that the landing rate in a run is above break-even today. */
  readonly chanceAboveBreakEvenNow: number;
}
