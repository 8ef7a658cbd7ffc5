/**
 * What the panel beside the route is told and what it asks for: between the panel and the editor, and between the
 * editor and the server. All three import this module. Numbers and words come from the server; the panel lays out.
 */
import type { ProtocolRange } from './messages.ts';
import {
  booleanShape,
  numberShape,
  textShape,
  unionOf,
  listOf,
  textUpTo,
  oneOf,
  orNull,
  record,
  type ShapeType,
} from './shape.ts';

/** Raised whenever what is stored or sent changes its form; what has another number is not read. */
export const panelVersion = 2;

export const panelViews = ['week', 'ranking', 'curve', 'run'] as const;
export const viewShape = oneOf(...panelViews);
export type PanelView = ShapeType<typeof viewShape>;

/** What a ranking is by until something else is chosen. */
export const defaultObjective = 'time';

/** A mean with its 10 % and 90 % points. */
const estimate = record({ mean: numberShape, low: numberShape, high: numberShape });
/** A name for a number and the number in words, with its unit. */
const fact = record({ label: textShape, text: textShape });
/** A place on an axis. */
const tick = record({ at: numberShape, label: textShape });
const state = oneOf('unlearned', 'learning', 'in-run');

const techniqueNameFields = { technique: textShape, name: textShape };
/** What the week file says of a technique. */
const techniqueStatus = { state, stateText: textShape, pinned: booleanShape, leftOut: booleanShape };

const rankedRow = record({
  ...techniqueNameFields,
  ...techniqueStatus,
  place: numberShape,
  /** Seconds, or percentage points of chance, per hour of practice. */
  gain: estimate,
  gainText: textShape,
  expectedText: textShape,
  hoursText: textShape,
  facts: listOf(fact),
  reason: textShape,
});
const skippedRow = record({ ...techniqueNameFields, ...techniqueStatus, reason: textShape });
export const rankingShape = record({
  rows: listOf(rankedRow),
  skipped: listOf(skippedRow),
  ticks: listOf(tick),
  axisLabel: textShape,
  /** Ids and names of what it can be by; with one alone there is nothing to choose. */
  objectives: listOf(record({ objective: textShape, label: textShape })),
  /** How the ranking stands to the target; null where it is by time. */
  targetText: orNull(textShape),
  /** What is known of the runner, in a sentence. */
  runnerText: textShape,
});

const curvePoint = record({
  /** Days since 1970-01-01. */
  day: numberShape,
  date: textShape,
  ahead: booleanShape,
  practice: estimate,
  run: estimate,
  practiceText: textShape,
  runText: textShape,
});
const curveResult = record({
  day: numberShape,
  date: textShape,
  kind: oneOf('practice', 'run'),
  landed: numberShape,
  tries: numberShape,
  rate: numberShape,
  text: textShape,
});
export const curveShape = record({
  ...techniqueNameFields,
  ...techniqueStatus,
  summary: textShape,
  facts: listOf(fact),
  points: listOf(curvePoint),
  results: listOf(curveResult),
  today: numberShape,
  breakEven: orNull(numberShape),
  breakEvenText: orNull(textShape),
  ticks: listOf(tick),
  forecastText: textShape,
});

const bin = record({
  from: numberShape,
  to: numberShape,
  share: numberShape,
  label: textShape,
  text: textShape,
});
const resetPoint = record({
  segment: textShape,
  name: textShape,
  /** How that lies to an average run's, in words; empty where a reset never pays. */
  leeway: textShape,
  text: textShape,
});
export const runShape = record({
  summary: textShape,
  facts: listOf(fact),
  bins: listOf(bin),
  ticks: listOf(tick),
  target: orNull(record({ seconds: numberShape, text: textShape })),
  resetLine: listOf(resetPoint),
  resetText: textShape,
});

const block = record({ ...techniqueNameFields, minutes: numberShape, rest: numberShape });
const plannedDay = record({
  date: textShape,
  label: textShape,
  today: booleanShape,
  off: booleanShape,
  blocks: listOf(block),
  runMinutes: numberShape,
  totalText: textShape,
  text: textShape,
});
const forecastPoint = record({ day: numberShape, date: textShape, gain: estimate, text: textShape });
export const weekShape = record({
  summary: textShape,
  set: listOf(record({ ...techniqueNameFields, ...techniqueStatus })),
  days: listOf(plannedDay),
  /** Minutes of the longest day, rests and runs included. */
  longest: numberShape,
  forecast: listOf(forecastPoint),
  ticks: listOf(tick),
  gainTicks: listOf(tick),
  facts: listOf(fact),
  notes: listOf(textShape),
});

export const panelDataShape = record({
  version: oneOf(panelVersion),
  /** The file that was asked about. */
  uri: textShape,
  /** Game and category. */
  route: textShape,
  asOf: textShape,
  view: viewShape,
  /** Why there is nothing to show, and what to do; null where there is something. */
  message: orNull(textShape),
  /** What is being worked out while older numbers are shown; null where all is as the files stand. */
  pending: orNull(textShape),
  /** Whether something can be added that is worked out only while nobody waits for anything else. */
  more: booleanShape,
  techniques: listOf(record(techniqueNameFields)),
  week: orNull(weekShape),
  ranking: orNull(rankingShape),
  curve: orNull(curveShape),
  run: orNull(runShape),
});

export type Fact = ShapeType<typeof fact>;
export type Tick = ShapeType<typeof tick>;
export type RankingView = ShapeType<typeof rankingShape>;
export type RankedRow = ShapeType<typeof rankedRow>;
export type SkippedRow = ShapeType<typeof skippedRow>;
export type CurveView = ShapeType<typeof curveShape>;
export type CurvePoint = ShapeType<typeof curvePoint>;
export type CurveResult = ShapeType<typeof curveResult>;
export type RunView = ShapeType<typeof runShape>;
export type ResetPoint = ShapeType<typeof resetPoint>;
export type WeekView = ShapeType<typeof weekShape>;
export type PlannedDay = ShapeType<typeof plannedDay>;
export type PanelData = ShapeType<typeof panelDataShape>;

/** Editor → server: what one view of the panel shows. */
export const panelRequest = 'routewright/panel';
export interface PanelParams {
  /** Any file of the project. */
  readonly uri: string;
  readonly view: PanelView;
  /** For the curve; null takes the first of the ranking. */
  readonly technique: string | null;
  /** Id of what the ranking is by, one of those that the server offers; it takes any other for the default. */
  readonly objective: string;
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
export type PanelChange = ShapeType<typeof change>;

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
export const locateTechniqueRequest = 'routewright/locateTechnique';
export interface LocateTechniqueParams {
  readonly uri: string;
  readonly technique: string;
}
export type LocateTechniqueResult = { readonly uri: string; readonly range: ProtocolRange } | null;

/** Editor → server: a view as Markdown, with the numbers and in the words that the panel shows. */
export const panelMarkdownRequest = 'routewright/panelMarkdown';

/** What is stored of a panel between two starts of the editor. */
export const storedPanelStateShape = record({
  version: oneOf(panelVersion),
  uri: textShape,
  view: viewShape,
  technique: orNull(textShape),
  objective: textShape,
  /** Pixels that the page was scrolled down. */
  scroll: numberShape,
});
export type StoredPanelState = ShapeType<typeof storedPanelStateShape>;

/** Largest drawing that is saved, in UTF-16 units. */
const maxDrawingLength = 4_000_000;

/** Panel → editor. */
export const panelViewMessageShape = unionOf(
  record({ type: oneOf('ready'), stored: orNull(storedPanelStateShape) }),
  record({ type: oneOf('look'), view: viewShape, technique: orNull(textShape), objective: textShape }),
  record({ type: oneOf('change'), change, technique: textShape }),
  record({ type: oneOf('open'), technique: textShape }),
  record({ type: oneOf('copy') }),
  record({ type: oneOf('save'), name: textShape, drawing: textUpTo(maxDrawingLength) }),
);
export type PanelViewMessage = ShapeType<typeof panelViewMessageShape>;

/** Editor → panel. */
export const panelEditorMessageShape = unionOf(
  record({ type: oneOf('show'), data: panelDataShape }),
  record({ type: oneOf('said'), text: textShape }),
  record({ type: oneOf('look'), view: viewShape, technique: orNull(textShape) }),
);
export type PanelEditorMessage = ShapeType<typeof panelEditorMessageShape>;
