/**
 * The inputs of the model, and the small types that its results share: plain data, no behaviour.
 *
 * Units: run times in seconds, practice in minutes, gaps in whole days, rates as fractions.
 */
import type { OthersWord } from './rated.ts';

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
  /** What other runners' practice says of it; undefined where nobody else's is known. */
  readonly others?: OthersWord | undefined;
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
  /** The attempts in their order, where they were logged one by one: `l` landed, `m` missed. */
  readonly tape?: string;
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
