import type { StandingKind } from '../model/core/types.ts';
import type { StandingReport } from './standing.ts';

export interface TonightReportBlock {
  readonly technique: string;
  /** Minutes of practice, and of rest after it. */
  readonly minutes: number;
  readonly rest: number;
  /** Why it is practised, in one sentence or two. */
  readonly reason: string;
  /** Where the quick repeat starts, as the route says; null if it does not. */
  readonly from: string | null;
}

export interface TonightReportChange {
  readonly technique: string;
  readonly from: StandingKind;
  readonly to: StandingKind;
  /** Why it stands there now, in one sentence. */
  readonly reason: string;
}

/** Tonight as the command line prints it and the editor shows it. Ids of techniques throughout. */
export interface TonightReport {
  /** The day that it is for. */
  readonly date: string;
  /** In the order of practice. */
  readonly blocks: readonly TonightReportBlock[];
  /** Techniques to leave out of runs today, those that are tried in runs first. */
  readonly notInRuns: readonly string[];
  readonly changed: readonly TonightReportChange[];
  readonly unusedMinutes: number;
  readonly standings: readonly StandingReport[];
  /** The rule that forbids the use of the unused minutes; null if there is none to name. */
  readonly unusedRule: string | null;
  /** What was practised today already, in minutes. */
  readonly done: readonly { readonly technique: string; readonly minutes: number }[];
  /** The last day with entries before this one, which `changed` compares with; null if there is none. */
  readonly lastDate: string | null;
  /** Why there is no block, and the next day with practice; null if there is a block. */
  readonly nothing: { readonly why: string; readonly next: string | null } | null;
  /** Swaps that the runner may want to make. Gains in seconds per hour of practice. */
  readonly swaps: readonly {
    readonly technique: string;
    readonly gainPerHour: number;
    /** The technique that would take its place. */
    readonly instead: string;
    readonly insteadGainPerHour: number;
  }[];
}
