import type { Moment } from '../../text/calendar.ts';
import type { Runs, Week } from '../../generated/types.ts';
import type { UncertainSeconds } from '../../text/time.ts';
import type { Path } from '../yaml/tree.ts';

/**
 * Files as the rest of the server sees them: short forms written out, times in seconds, each value with its path in the
 * file.
 */
export interface WithPath {
  readonly path: Path;
}

export interface RouteDocument {
  readonly game: string | undefined;
  readonly category: string | undefined;
  /** Seconds. */
  readonly target: number | undefined;
  /** Seconds from a reset to the next start. */
  readonly restart: number;
  readonly extends: string | undefined;
  readonly segments: readonly Segment[];
  /** In the order of the file. */
  readonly techniques: readonly Technique[];
  /** Ranges that go from high to low, and so are not read. */
  readonly backwards: readonly BackwardsRange[];
}

/** `16..9`: its numbers as they are written. */
export interface BackwardsRange extends WithPath {
  readonly low: string;
  readonly high: string;
}

export interface Segment extends WithPath {
  readonly id: string;
  readonly name: string;
  readonly time: number;
  readonly spread: number;
  readonly survive: number;
  readonly luck: readonly { readonly chance: number; readonly adds: number }[];
  readonly uses: readonly Use[];
}

export interface WayToMiss {
  readonly chance: number;
  readonly loses: number;
  readonly endsRun: boolean;
}

/** What a try saves or loses: written on a technique, or on one use of it where that differs. */
export interface Effect {
  readonly saves?: UncertainSeconds;
  readonly loses?: UncertainSeconds;
  readonly endsRun?: boolean;
  readonly miss?: readonly WayToMiss[];
}

export interface Use extends WithPath, Effect {
  readonly technique: string;
  /** `id` where the file gives one. */
  readonly id: string | undefined;
  readonly spot: string | undefined;
  readonly backup: string | undefined;
  readonly retry: number | undefined;
  readonly maxTries: number | undefined;
  readonly take: string | undefined;
  readonly costs: number;
  readonly with: string | undefined;
  /** True where only the technique's id is written. */
  readonly short: boolean;
}

export interface Technique extends WithPath, Effect {
  readonly id: string;
  readonly name: string;
  readonly difficulty: number;
  readonly needs: readonly Reference[];
  readonly was: readonly Reference[];
  /** Seconds of an attempt and of the way back; `from` is where to stand. */
  readonly practice: { readonly attempt: number; readonly reload: number; readonly from: string | undefined };
}

/** An id that refers to something defined elsewhere, with the place where it is written. */
export interface Reference extends WithPath {
  readonly id: string;
}

/** What every log and week file says at its beginning. */
export interface LogHeader {
  /** As written, relative to the file. */
  readonly route: string | undefined;
  readonly runner: string | undefined;
}

export interface PracticeDocument extends LogHeader {
  readonly sessions: readonly Session[];
}

export interface Session extends WithPath {
  readonly start: Moment;
  readonly blocks: readonly Block[];
}

export interface AttemptCounts {
  readonly landed: number;
  readonly tries: number;
}

export interface Block extends WithPath {
  readonly technique: string | undefined;
  readonly segment: string | undefined;
  readonly minutes: number;
  readonly landed: AttemptCounts | undefined;
  readonly seen: AttemptCounts | undefined;
  readonly attempts: number | undefined;
  readonly tape: string | undefined;
  readonly tried: readonly TechniqueAttempts[];
}

/** Tries of one technique, or of one use of it. */
export interface TechniqueAttempts extends WithPath, AttemptCounts {
  readonly technique: string;
  readonly use: string | undefined;
}

export interface RunsDocument extends LogHeader {
  readonly runs: readonly Run[];
}

export interface Run extends WithPath {
  readonly kind: 'run' | 'evening';
  readonly start: Moment;
  /** Seconds by segment. */
  readonly times: readonly (Reference & { readonly seconds: number })[];
  readonly total: number | undefined;
  readonly tried: readonly TechniqueAttempts[];
  readonly first: readonly TechniqueAttempts[];
  readonly endings: readonly Ending[];
  readonly minutes: number | undefined;
  /** Runs started and finished; 1 and 0 or 1 for a single run. */
  readonly started: number;
  readonly finished: number | undefined;
}

export interface Ending extends WithPath {
  readonly segment: string;
  readonly why: 'miss' | 'death' | 'reset';
  readonly by: string | undefined;
  readonly runs: number;
}

export type Weekday = keyof Week.MinutesByDay & ('mon' | 'tue' | 'wed' | 'thu' | 'fri' | 'sat' | 'sun');
export type TechniqueState = 'unlearned' | 'learning' | 'in-run';

export interface WeekDocument extends LogHeader {
  readonly target: number | undefined;
  readonly days: Readonly<Partial<Record<Weekday, number>>>;
  readonly runs: Readonly<Partial<Record<Weekday, number>>>;
  /** Minutes. */
  readonly block: number;
  readonly confidence: number;
  readonly off: readonly Moment[];
  readonly pin: readonly Reference[];
  readonly leaveOut: readonly Reference[];
  readonly states: readonly (Reference & { readonly state: TechniqueState })[];
  readonly times: readonly (Reference & { readonly time: number; readonly spread: number | undefined })[];
  /** Minutes after midnight at which a day begins. */
  readonly dayStarts: number;
  readonly model: Week.ModelConstants;
}

export type RawRun = Runs.RunOrAnEveningOfRuns;

/** What several runners' practice says about a route's techniques. */
export interface PoolDocument {
  /** As written, relative to the file. */
  readonly route: string | undefined;
  /** Version of the curves that the numbers belong to; undefined where none can be read. */
  readonly model: number | undefined;
  /** When it was made. */
  readonly day: Moment | undefined;
  /** A digest of each runner's first entries, each once. */
  readonly runners: readonly string[];
  /** Digests that stand in the list a second time. */
  readonly repeatedRunners: readonly Reference[];
  /** In the order of the file; one with a mistake in it is left out. */
  readonly techniques: readonly TechniqueInPool[];
}

/** The same shape as a pooled technique of the model, with its id and place. */
export interface TechniqueInPool extends WithPath {
  readonly id: string;
  /** How many runners practised it. */
  readonly runners: number;
  /** As the route rated it when it was counted. */
  readonly difficulty: number;
  readonly midway: PoolNumbers;
  readonly loss?: PoolNumbers;
  readonly suddenness?: PoolNumbers;
  readonly ceiling?: PoolNumbers;
  readonly floor?: PoolNumbers;
}

/** Tenths of a natural logarithm, for how much of a technique's own difference runners may have in common. */
export interface PoolNumbers {
  readonly quarter: readonly number[];
  readonly half: readonly number[];
  readonly threeQuarters: readonly number[];
  readonly nearlyAll: readonly number[];
}
