import type { Curve } from './learner.ts';

/** What a simulated runner set out to do in one of the six weeks. */
export interface WeekPlan {
  /** Evenings with practice, 0 = Monday. */
  readonly evenings: readonly number[];
  /** The practice set, in the order in which it is rotated. */
  readonly set: readonly string[];
  /** A segment practised whole at the end of one evening of this week. */
  readonly segment?: { readonly evening: number; readonly id: string };
}

/** A runner of the sample: how they learn, what they practise and how they run. */
export interface SampleRunner {
  /** As the files name them. */
  readonly name: string;
  /** The folder of their files, from that of the route; empty for the one beside it. */
  readonly folder: string;
  /** Added to the seed of the sample, so that each runner has luck of their own. */
  readonly luck: number;
  /** How they learn each technique, by id; what is left out they never land. @param difficulties of the route, 1 to 10 */
  readonly curves: (difficulties: ReadonlyMap<string, number>) => Readonly<Record<string, Curve>>;
  readonly weeks: readonly WeekPlan[];
  /** Minutes free for practice on each evening, Monday to Friday. */
  readonly minutesFree: readonly number[];
  /** When the first session of an evening may begin, in minutes after midnight. */
  readonly begins: number;
  /** Uses tried in runs, by their names in the logs, and the first week (from 0) in which they are. */
  readonly triedFromWeek: Readonly<Record<string, number>>;
  /** Their usual time of a segment, as a share of the route's. */
  readonly timeShare: number;
  /** Runs on Saturday and on Sunday: minutes, and seconds behind their pace at which they still go on. */
  readonly saturday: RunDay;
  readonly sunday: RunDay;
}

export interface RunDay {
  readonly minutes: number;
  readonly slack: number;
}
