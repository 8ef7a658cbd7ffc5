/**
 * What is said about practice as it happens: between the practice view and the editor, and between the editor and the
 * server. All three import this module. The server logs; the editor keeps the time; the view shows and takes keys.
 */
import {
  booleanShape,
  numberShape,
  textShape,
  unionOf,
  listOf,
  oneOf,
  orNull,
  record,
  type ShapeType,
} from './shape.ts';

/** Raised whenever what is stored or sent changes its form; what has another number is not read. */
export const practiceVersion = 1;

const attempt = record({
  /** Milliseconds since 1970. */
  at: numberShape,
  landed: booleanShape,
});
/** One try of a block that counts, as it was logged. */
export type LoggedAttempt = ShapeType<typeof attempt>;

/** Why something was not done, in a sentence. */
export interface Refusal {
  readonly message: string;
}

/** A log file, and the text it begins with where it is not there yet. */
export interface LogFile {
  readonly uri: string;
  readonly begin: string | null;
}

/** Editor → server: what can be practised and logged along the route that a file belongs to. */
export const practiceOfferRequest = 'routewright/practiceOffer';
export interface PracticeOfferParams {
  readonly uri: string;
  /** False leaves out today's next block, which takes a while to plan. */
  readonly plan: boolean;
}
export interface OfferedTechnique {
  readonly technique: string;
  readonly name: string;
  /** Minutes of a block. */
  readonly minutes: number;
  /** Where to start over; empty where the route does not say. */
  readonly from: string;
  /** Seconds from one attempt's start to the next, as the route has it. */
  readonly cycle: number;
  readonly inRun: boolean;
  /** The state in words. */
  readonly state: string;
}
export interface PracticeOffer {
  /** Game and category. */
  readonly route: string;
  readonly practice: LogFile;
  readonly runs: LogFile;
  /** Today's next block as the plan has it; null where today has none left. */
  readonly next: OfferedTechnique | null;
  /** In the order of the route. */
  readonly techniques: readonly OfferedTechnique[];
  readonly segments: readonly { readonly id: string; readonly name: string }[];
  /** What is promised of an attempt once it is counted. */
  readonly promise: string;
  /** A word on long days where there is reason for one. */
  readonly caution: string | null;
  /** Minutes practised today. */
  readonly minutesToday: number;
}
export type PracticeOfferResult = PracticeOffer | Refusal;

/** A block of one practice file. */
export interface BlockParams {
  /** The practice file. */
  readonly uri: string;
  readonly block: string;
  readonly technique: string;
}
/** What of a block counts so far. */
export interface CountedAttempts {
  readonly attempts: readonly LoggedAttempt[];
}

/** Editor → server: begins a block. */
export const practiceStartRequest = 'routewright/practiceStart';
export interface PracticeStartParams {
  readonly uri: string;
  readonly technique: string;
}
export type PracticeStartResult = { readonly block: string; readonly began: number } | Refusal;

/** Editor → server: an attempt, its taking back, and how a block stands. Each is answered once it is written. */
export const practiceAttemptRequest = 'routewright/practiceAttempt';
export interface PracticeAttemptParams extends BlockParams {
  readonly landed: boolean;
}
export const practiceTakeBackRequest = 'routewright/practiceTakeBack';
export const countedAttemptsRequest = 'routewright/countedAttempts';
export type CountedAttemptsResult = CountedAttempts | Refusal;

/** Editor → server: ends a block and puts it into its file. */
export const practiceEndRequest = 'routewright/practiceEnd';
export interface PracticeEndParams extends BlockParams {
  /** Landed and tries, where they were not logged one by one. */
  readonly counts: readonly [landed: number, tries: number] | null;
  /** True leaves the block out of the log. */
  readonly leaveOut: boolean;
  /** When its time was up, ms since 1970: what came after that, but for attempts, was no practice. */
  readonly until: number;
}
export type PracticeEndResult =
  | {
      /** Where it went, in a sentence. */
      readonly said: string;
      /** Minutes as logged; 0 where it was left out. */
      readonly minutes: number;
    }
  | Refusal;

/** Server → editor: somebody else has written to the journal of a practice file. */
export const practiceChangedNotification = 'routewright/practiceChanged';
export interface PracticeChangedParams {
  readonly uri: string;
}

/** Editor → server: makes the route say another cycle of a technique. */
export const correctCycleRequest = 'routewright/correctCycle';
export interface CorrectCycleParams {
  readonly uri: string;
  readonly technique: string;
  /** Seconds. */
  readonly cycle: number;
}

/** Editor → server: a block or a run logged whole, each part as a person wrote it. */
export const logBlockRequest = 'routewright/logBlock';
export interface LogBlockParams {
  readonly uri: string;
  readonly technique: string;
  readonly minutes: string;
  /** `12/20`, or a tape such as `lmmlll`; empty where nothing was counted. */
  readonly result: string;
  /** True: nothing is written, it is only said what is wrong. */
  readonly dry: boolean;
}
export const logRunRequest = 'routewright/logRun';
export interface LogRunParams {
  readonly uri: string;
  /** `41:30.2`; empty where it is not known. */
  readonly total: string;
  /** Times in the order of the route, with spaces between; a dash where one is not known. */
  readonly times: string;
  readonly landed: readonly string[];
  readonly missed: readonly string[];
  readonly ended: {
    readonly at: string;
    readonly why: 'miss' | 'death' | 'reset';
    readonly by: string | null;
  } | null;
  readonly dry: boolean;
}
/** `id` of the entry that was logged; null where nothing was written. */
export type LogEntryResult = { readonly id: string | null; readonly said: string } | Refusal;

/** Editor → server: what one logged run changed in the review; a view in words. */
export const runReviewRequest = 'routewright/runReview';
export interface RunReviewParams {
  readonly uri: string;
  readonly id: string;
}

/** Server → editor, where there is no disk: keeps, and gives back, the journal of a file. */
export const writeJournalRequest = 'routewright/writeJournal';
export interface WriteJournalParams {
  readonly uri: string;
  readonly text: string;
}
/** Why it was not kept; null where it was. */
export type WriteJournalResult = string | null;
export const readJournalRequest = 'routewright/readJournal';
export interface ReadJournalParams {
  readonly uri: string;
}
export type ReadJournalResult = string | null;

/** What a key or a button of the view does. */
export const practiceActions = ['landed', 'missed', 'back', 'end'] as const;
const action = oneOf(...practiceActions);
export type PracticeAction = ShapeType<typeof action>;

/** A key by its place on the keyboard, with its name for people. */
const key = record({ code: textShape, name: textShape });
export type BoundKey = ShapeType<typeof key>;
/** A button of a gamepad, counted from 0. */
const padButton = record({ pad: textShape, button: numberShape });
export type BoundButton = ShapeType<typeof padButton>;
export const bindingsShape = record({
  version: oneOf(practiceVersion),
  keys: record({ landed: key, missed: key, back: key, end: key }),
  pad: record({
    landed: orNull(padButton),
    missed: orNull(padButton),
    back: orNull(padButton),
    end: orNull(padButton),
  }),
});
export type Bindings = ShapeType<typeof bindingsShape>;

/** Letters as on a tape. A gamepad does nothing until somebody chooses its buttons. */
export const defaultBindings: Bindings = {
  version: practiceVersion,
  keys: {
    landed: { code: 'KeyL', name: 'L' },
    missed: { code: 'KeyM', name: 'M' },
    back: { code: 'Backspace', name: 'Backspace' },
    end: { code: 'KeyE', name: 'E' },
  },
  pad: { landed: null, missed: null, back: null, end: null },
};

const planned = record({ technique: textShape, name: textShape, minutes: numberShape, from: textShape });
/**
 * `block`: it runs. `up`: its time is up, the attempt under way still counts. `count`: it is over and nothing was
 * counted by key. `rest`: it is logged. `rested`: the rest is over, too.
 */
const phase = oneOf('block', 'up', 'count', 'rest', 'rested');
export type PracticePhase = ShapeType<typeof phase>;

export const practiceDataShape = record({
  version: oneOf(practiceVersion),
  phase,
  route: textShape,
  name: textShape,
  from: textShape,
  /** Seconds. */
  cycle: numberShape,
  /** The editor's clock as this was sent, ms since 1970, and on it: */
  now: numberShape,
  began: numberShape,
  ends: numberShape,
  restEnds: orNull(numberShape),
  attempts: listOf(attempt),
  /** What was said last; empty where there is nothing to say. */
  said: textShape,
  promise: textShape,
  caution: orNull(textShape),
  /** Attempts have come slower than the route says. */
  slow: orNull(record({ text: textShape, cycle: numberShape })),
  next: orNull(planned),
  /** Whether the next block is still being planned. */
  planning: booleanShape,
  bindings: bindingsShape,
});
export type PracticeData = ShapeType<typeof practiceDataShape>;

/** View → editor. */
export const practiceViewMessageShape = unionOf(
  record({ type: oneOf('ready') }),
  record({ type: oneOf('press'), press: numberShape, action }),
  record({ type: oneOf('counts'), landed: numberShape, tries: numberShape }),
  record({
    type: oneOf('timeOnly', 'leaveOut', 'next', 'other', 'close', 'correct', 'keep', 'less', 'more'),
  }),
  record({ type: oneOf('bind'), bindings: bindingsShape }),
);
export type PracticeViewMessage = ShapeType<typeof practiceViewMessageShape>;

/** Editor → view. `answered`: the press with this number is written, or was not. */
export const practiceEditorMessageShape = unionOf(
  record({ type: oneOf('show'), data: practiceDataShape }),
  record({ type: oneOf('answered'), press: numberShape, written: booleanShape }),
);
export type PracticeEditorMessage = ShapeType<typeof practiceEditorMessageShape>;
