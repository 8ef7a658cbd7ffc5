/**
 * What the model takes in and gives back: plain data, no behaviour.
 *
 * Units: run times in seconds, practice in minutes, gaps in whole days, rates as fractions.
 */

/** One way a try can fail. The chances of all misses of a use sum to 1. */
export interface Miss {
  /** Share of the misses that go this way, 0 to 1. */
  readonly chance: number;
  /** Seconds lost against the safe way; 0 where the run ends. */
  readonly loses: number;
  readonly endsRun: boolean;
}

/** One place where a technique is tried in the route. */
export interface UseModel {
  /** Unique in the route: the technique's id, or `technique@use`. */
  readonly id: string;
  readonly technique: string;
  /** Uses with the same spot exclude each other. */
  readonly spot?: string;
  /** Seconds gained when it lands, net of its set-up: mean, and standard deviation of the runner's own doubt. */
  readonly saves: { readonly mean: number; readonly sd: number };
  readonly misses: readonly Miss[];
  /** A technique tried at once after a miss that does not end the run. */
  readonly backup?: string;
  /** What the backup saves and how it misses here; without it, the numbers of the backup's own use are taken. */
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
  /** Chance to get through it alive, techniques apart. */
  readonly survive: number;
  readonly luck: readonly { readonly chance: number; readonly adds: number }[];
  readonly uses: readonly UseModel[];
}

export type LearningState = 'unlearned' | 'learning' | 'in-run';

export interface TechniqueModel {
  readonly id: string;
  /** 1 (easy) to 10. */
  readonly difficulty: number;
  /** Ids that must be ready before this one is practised. */
  readonly needs: readonly string[];
  /** Seconds of one attempt, and of the way back to its start. */
  readonly attemptSeconds: number;
  readonly reloadSeconds: number;
  readonly state: LearningState;
}

export interface RouteModel {
  readonly segments: readonly SegmentModel[];
  readonly techniques: readonly TechniqueModel[];
  /** Seconds from a reset to the next start. */
  readonly restart: number;
}

/** Landed and tried, counted. */
export interface AttemptCount {
  readonly landed: number;
  readonly tries: number;
}

/** A stretch of practice on one technique. */
export interface PracticeEntry {
  readonly technique: string;
  /** Day number (days since 1970-01-01 on the runner's clock, a day ending at their night boundary). */
  readonly day: number;
  /** Order within all entries: entries of one day are applied in rising `order`. */
  readonly order: number;
  readonly minutes: number;
  /** Attempts made, where known; otherwise the model guesses them from the runner's pace. */
  readonly attempts?: number;
  /** What was counted; enters the likelihood. May be a sample of a longer block. */
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

/** A mean with its 10 % and 90 % points. */
export interface Estimate {
  readonly mean: number;
  readonly low: number;
  readonly high: number;
}

export interface RankOptions {
  /** Length of the daily block, minutes. */
  readonly blockMinutes: number;
  /** Asked probability that the run rate is above break-even, 0 to 1. */
  readonly confidence: number;
  /** Rank what is in the run already, too. */
  readonly all: boolean;
  /** Techniques that the runner does not want practised: they go to `skipped`, and so does what needs them and cannot do without. */
  readonly leaveOut?: readonly string[];
  /** Id of what practice is to serve. The first objective serves where it is left out, unknown or lacks what it needs. */
  readonly objective?: string;
  /** A time to beat, seconds, for an objective that needs one. */
  readonly target?: number;
}

/** One technique of a ranking. Gains are in the objective's unit before scaling: seconds of V, or a chance from 0 to 1. */
export interface RankRow {
  readonly technique: string;
  /** Gained per hour of practice at the best stopping point; 10 and 90 % points of the drop per hour at that h. */
  readonly gainPerHour: number;
  readonly low: number;
  readonly high: number;
  /** Daily blocks, their length, and hours in all, to the best stopping point. */
  readonly blocks: number;
  readonly blockMinutes: number;
  readonly hours: number;
  /** Gained after those hours. */
  readonly gain: number;
  /** Landing rate in a run above which trying beats the next best choice; null where no rate does. */
  readonly breakEven: number | null;
  readonly practiceNow: Estimate;
  readonly runNow: Estimate;
  readonly runThen: Estimate;
  /** Hours of practice to competence; null beyond the horizon. */
  readonly hoursToCompetent: {
    readonly p10: number | null;
    readonly p50: number | null;
    readonly p90: number | null;
  };
  /** Chance that the run rate is above break-even after the practice. */
  readonly chanceCompetent: number;
  /** Chance that this row has the highest gain per hour of all rows, each at its own hours. */
  readonly chanceBest: number;
  /** Techniques practised together with this one in the best closed set (its needs, or what it opens). */
  readonly opensWith: readonly string[];
  /** Why it stands here, in one sentence. */
  readonly reason: string;
}

/** A time to beat, and how far it is within reach. */
export interface TargetChance {
  /** Seconds to beat. */
  readonly seconds: number;
  /** Chance to beat it in an hour of runs as they are now, reset where that pays. */
  readonly chance: number;
  /** Whether the ranking is by that chance; by time where no single technique brings it over one in a million. */
  readonly ranked: boolean;
}

export interface Ranking {
  /** Id of the objective that the gains are by. */
  readonly objective: string;
  /** Best first. */
  readonly rows: readonly RankRow[];
  readonly skipped: readonly { readonly technique: string; readonly reason: string }[];
  /** The time to beat, where the objective asked for needs one. */
  readonly target: TargetChance | null;
  /** Shared by all techniques: offset from the difficulty scale, and logit lost under pressure. */
  readonly runner: { readonly offset: Estimate; readonly pressure: Estimate };
}

/** How well one technique lands today, without any forecast. */
export interface Assessment {
  readonly practiceNow: Estimate;
  readonly runNow: Estimate;
  /** As in a ranking's row. */
  readonly breakEven: number | null;
  /** Chance that the run rate is above break-even today. */
  readonly chanceAboveBreakEvenNow: number;
}
