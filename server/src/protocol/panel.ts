/**
 * What the panel beside the route is told and what it asks for: between the panel and the editor, and between the
 * editor and the server. All three import this module. Numbers and words come from the server; the panel lays out.
 */
import type { ProtocolRange } from './messages.ts';
import {
  aFlag,
  aNumber,
  aText,
  either,
  listOf,
  longText,
  oneOf,
  orNull,
  record,
  type Shaped,
} from './shape.ts';

/** Raised whenever what is stored or sent changes its form; what has another number is not read. */
export const panelVersion = 2;

export const panelViews = ['week', 'ranking', 'curve', 'run'] as const;
export const viewShape = oneOf(...panelViews);
export type PanelView = Shaped<typeof viewShape>;

/** What a ranking is by: seconds of expected run time, or the chance of beating the target in an hour of runs. */
export const objectiveShape = oneOf('time', 'target');
export type Objective = Shaped<typeof objectiveShape>;

/** A mean with its 10 % and 90 % points. */
const estimate = record({ mean: aNumber, low: aNumber, high: aNumber });
/** A name for a number and the number in words, with its unit. */
const fact = record({ label: aText, text: aText });
/** A place on an axis. */
const tick = record({ at: aNumber, label: aText });
const state = oneOf('unlearned', 'learning', 'in-run');

const named = { technique: aText, name: aText };
/** What the week file says of a technique. */
const standing = { state, stateText: aText, pinned: aFlag, leftOut: aFlag };

const rankedRow = record({
  ...named,
  ...standing,
  place: aNumber,
  /** Seconds, or percentage points of chance, per hour of practice. */
  gain: estimate,
  gainText: aText,
  expectedText: aText,
  hoursText: aText,
  facts: listOf(fact),
  reason: aText,
});
const skippedRow = record({ ...named, ...standing, reason: aText });
export const rankingShape = record({
  rows: listOf(rankedRow),
  skipped: listOf(skippedRow),
  ticks: listOf(tick),
  axisLabel: aText,
  /** What it can be by: without a target there is nothing to choose. */
  objectives: listOf(record({ objective: objectiveShape, label: aText })),
  /** How the ranking stands to the target; null where it is by time. */
  targetText: orNull(aText),
  /** What is known of the runner, in a sentence. */
  runnerText: aText,
});

const curvePoint = record({
  /** Days since 1970-01-01. */
  day: aNumber,
  date: aText,
  ahead: aFlag,
  practice: estimate,
  run: estimate,
  practiceText: aText,
  runText: aText,
});
const curveResult = record({
  day: aNumber,
  date: aText,
  kind: oneOf('practice', 'run'),
  landed: aNumber,
  tries: aNumber,
  rate: aNumber,
  text: aText,
});
export const curveShape = record({
  ...named,
  ...standing,
  summary: aText,
  facts: listOf(fact),
  points: listOf(curvePoint),
  results: listOf(curveResult),
  today: aNumber,
  breakEven: orNull(aNumber),
  breakEvenText: orNull(aText),
  ticks: listOf(tick),
  forecastText: aText,
});

const bin = record({ from: aNumber, to: aNumber, share: aNumber, label: aText, text: aText });
const resetPoint = record({
  segment: aText,
  name: aText,
  /** How that lies to an average run's, in words; empty where a reset never pays. */
  leeway: aText,
  text: aText,
});
export const runShape = record({
  summary: aText,
  facts: listOf(fact),
  bins: listOf(bin),
  ticks: listOf(tick),
  target: orNull(record({ seconds: aNumber, text: aText })),
  resetLine: listOf(resetPoint),
  resetText: aText,
});

const block = record({ ...named, minutes: aNumber, rest: aNumber });
const plannedDay = record({
  date: aText,
  label: aText,
  today: aFlag,
  off: aFlag,
  blocks: listOf(block),
  runMinutes: aNumber,
  totalText: aText,
  text: aText,
});
const forecastPoint = record({ day: aNumber, date: aText, gain: estimate, text: aText });
export const weekShape = record({
  summary: aText,
  set: listOf(record({ ...named, ...standing })),
  days: listOf(plannedDay),
  /** Minutes of the longest day, rests and runs included. */
  longest: aNumber,
  forecast: listOf(forecastPoint),
  ticks: listOf(tick),
  gainTicks: listOf(tick),
  facts: listOf(fact),
  notes: listOf(aText),
});

export const panelDataShape = record({
  version: oneOf(panelVersion),
  /** The file that was asked about. */
  uri: aText,
  /** Game and category. */
  route: aText,
  asOf: aText,
  view: viewShape,
  /** Why there is nothing to show, and what to do; null where there is something. */
  message: orNull(aText),
  /** What is being worked out while older numbers are shown; null where all is as the files stand. */
  pending: orNull(aText),
  /** Whether something can be added that is worked out only while nobody waits for anything else. */
  more: aFlag,
  techniques: listOf(record(named)),
  week: orNull(weekShape),
  ranking: orNull(rankingShape),
  curve: orNull(curveShape),
  run: orNull(runShape),
});

export type Fact = Shaped<typeof fact>;
export type Tick = Shaped<typeof tick>;
export type RankingView = Shaped<typeof rankingShape>;
export type RankedRow = Shaped<typeof rankedRow>;
export type SkippedRow = Shaped<typeof skippedRow>;
export type CurveView = Shaped<typeof curveShape>;
export type CurvePoint = Shaped<typeof curvePoint>;
export type CurveResult = Shaped<typeof curveResult>;
export type RunView = Shaped<typeof runShape>;
export type ResetPoint = Shaped<typeof resetPoint>;
export type WeekView = Shaped<typeof weekShape>;
export type PlannedDay = Shaped<typeof plannedDay>;
export type PanelData = Shaped<typeof panelDataShape>;

/** Editor → server: what one view of the panel shows. */
export const panelRequest = 'routewright/panel';
export interface PanelParams {
  /** Any file of the project. */
  readonly uri: string;
  readonly view: PanelView;
  /** For the curve; null takes the first of the ranking. */
  readonly technique: string | null;
  /** What the ranking is by; without a target it is by time. */
  readonly objective: Objective;
  /** False: answer at once with what is known, and say in `pending` what is not. */
  readonly wait: boolean;
  /** True: also what can be added, however long it takes; given up where the request is cancelled. */
  readonly rest?: boolean;
}
/** Whatever a server answers is checked before it is passed on. */
export type PanelResult = PanelData;

/** Server → editor: the files were read anew; a panel that shows them should ask again. */
export const filesReadNotification = 'routewright/filesRead';

const change = oneOf('pin', 'unpin', 'leave-out', 'take-back', 'learning');
export type PanelChange = Shaped<typeof change>;

/** Editor → server: the edit that changes what the week file says of a technique. */
export const changeWeekRequest = 'routewright/changeWeek';
export interface ChangeWeekParams {
  readonly uri: string;
  readonly technique: string;
  readonly change: PanelChange;
}
export interface ChangeWeekResult {
  /** For the editor to apply as one step to undo; absent where nothing is to be done. */
  readonly edit?: {
    readonly uri: string;
    /** Version of the document that the edits are for; null where it is not open. */
    readonly version: number | null;
    readonly changes: readonly { readonly range: ProtocolRange; readonly newText: string }[];
    /** True where the file is not there yet and is to be created with this text. */
    readonly create: boolean;
  };
  /** What the edit does, or why there is none. */
  readonly message: string;
}

/** Editor → server: where a technique is defined. */
export const whereIsRequest = 'routewright/whereIs';
export interface WhereIsParams {
  readonly uri: string;
  readonly technique: string;
}
export type WhereIsResult = { readonly uri: string; readonly range: ProtocolRange } | null;

/** Editor → server: a view as Markdown, with the numbers and in the words that the panel shows. */
export const panelMarkdownRequest = 'routewright/panelMarkdown';

/** What is stored of a panel between two starts of the editor. */
export const storedShape = record({
  version: oneOf(panelVersion),
  uri: aText,
  view: viewShape,
  technique: orNull(aText),
  objective: objectiveShape,
  /** Pixels that the page was scrolled down. */
  scroll: aNumber,
});
export type Stored = Shaped<typeof storedShape>;

/** Largest drawing that is saved, in UTF-16 units. */
const largestDrawing = 4_000_000;

/** Panel → editor. */
export const fromPanelShape = either(
  record({ type: oneOf('ready'), stored: orNull(storedShape) }),
  record({ type: oneOf('look'), view: viewShape, technique: orNull(aText), objective: objectiveShape }),
  record({ type: oneOf('change'), change, technique: aText }),
  record({ type: oneOf('open'), technique: aText }),
  record({ type: oneOf('copy') }),
  record({ type: oneOf('save'), name: aText, drawing: longText(largestDrawing) }),
);
export type FromPanel = Shaped<typeof fromPanelShape>;

/** Editor → panel. */
export const toPanelShape = either(
  record({ type: oneOf('show'), data: panelDataShape }),
  record({ type: oneOf('said'), text: aText }),
  record({ type: oneOf('look'), view: viewShape, technique: orNull(aText) }),
);
export type ToPanel = Shaped<typeof toPanelShape>;
