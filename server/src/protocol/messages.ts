/**
 * What the client and the server say to each other beyond the Language Server Protocol.
 * Types and names only: both sides import this module.
 */
import type { RankReport } from './rankReport.ts';

/** Sent by the client with `initialize`. */
export interface InitializationOptions {
  /** The runner's date, with their time of day where it is known: `2026-10-05T19:30`. */
  readonly today?: string;
  /** By code: the severity set for what is found, or `off`. */
  readonly rules?: Readonly<Record<string, string>>;
  /** Whether the client has the command {@link showInPanelCommand}. */
  readonly showsInPanel?: boolean;
}

/** A command of the client that a lens runs: opens the panel at a view, with one {@link ShowInPanel} to say which. */
export const showInPanelCommand = 'routewright.showInPanel';
export interface ShowInPanel {
  /** Any file of the project. */
  readonly uri: string;
  readonly view: 'curve' | 'run';
  readonly technique: string | null;
}

/** Client → server: the date or the hour has changed. */
export const todayNotification = 'routewright/today';
export interface TodayParams {
  readonly today: string;
}

/** Client to server: the severities set for what is found, by code. */
export const rulesNotification = 'routewright/rules';
export interface RulesParams {
  readonly rules: Readonly<Record<string, string>>;
}

/** Client → server: the ranking of the route that a file belongs to. */
export const rankRequest = 'routewright/rank';
export interface RankParams {
  /** Any file of the project. */
  readonly uri: string;
  /** Also what is in the run already. */
  readonly all?: boolean;
}
export interface RankResult {
  /** Absent where there is nothing to rank; `message` then says why and what to do. */
  readonly report?: RankReport;
  readonly message?: string;
  /** Game and category, and the day asked about; empty where there is no report. */
  readonly title: string;
  /** The rows of the report in words, in their order. */
  readonly lines: readonly RankLine[];
  readonly skipped: readonly SkippedLine[];
}
/** A technique to be shown in a list. */
export interface TechniqueLine {
  readonly technique: string;
  readonly name: string;
  /** Where it is defined. */
  readonly location?: ProtocolLocation;
}
export interface RankLine extends TechniqueLine {
  /** The gain as an 80 % range and its mean, with the unit. */
  readonly gain: string;
  /** Practice, landing rates and the chance to be competent, in a line. */
  readonly detail: string;
  readonly reason: string;
}
export interface SkippedLine extends TechniqueLine {
  readonly reason: string;
}
export interface ProtocolLocation {
  readonly uri: string;
  readonly range: ProtocolRange;
}
export interface ProtocolRange {
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

/** Client → server: the texts of a small first route, with its logs and week. */
export const starterRequest = 'routewright/starter';
export interface StarterParams {
  readonly game: string;
}
export interface StarterResult {
  /** By their names in one folder, the route first. */
  readonly files: readonly { readonly name: string; readonly text: string }[];
}

/** Client → server: the edit that sets a technique's state, in the week file where there is one. */
export const setStateRequest = 'routewright/setState';
export interface SetStateParams {
  readonly uri: string;
  readonly technique: string;
  readonly state: 'unlearned' | 'learning' | 'in-run';
}
export interface SetStateResult {
  /** For the client to apply, so that it can be undone; absent where nothing is to be done. */
  readonly edit?: {
    readonly uri: string;
    /** Version of the document that the edit is for; null where it is not open. */
    readonly version: number | null;
    readonly range: ProtocolRange;
    readonly newText: string;
    /** True where the file is not there yet and is to be created with this text. */
    readonly create: boolean;
  };
  /** What the edit does, or why there is none. */
  readonly message: string;
}

/** Client → server: what the status item shows for a file. */
export const statusRequest = 'routewright/status';
export interface StatusParams {
  readonly uri: string;
}
export interface StatusResult {
  /** Game and category; null where the file belongs to no route. */
  readonly route: string | null;
  /** Errors and warnings in all files of the project. */
  readonly problems: number;
}

/** Server → client: findings were published; whatever shows counts should ask again. */
export const findingsChangedNotification = 'routewright/findingsChanged';

/** Server → client: the files below a folder that have one of the four endings, as URIs. */
export const listFilesRequest = 'routewright/listFiles';
export interface ListFilesParams {
  readonly folder: string;
}
export type ListFilesResult = readonly string[];

/** Server → client: a file's text; null where there is none or it cannot be read. */
export const readFileRequest = 'routewright/readFile';
export interface ReadFileParams {
  readonly uri: string;
}
export type ReadFileResult = string | null;
