/**
 * What is said about practice as it happens: between the practice view and the editor, and between the editor and the
 * server. All three import this module. The server logs; the editor keeps the time; the view shows and takes keys.
 */
import { aFlag, aNumber, aText, either, listOf, oneOf, orNull, record, type Shaped } from './shape.ts';

/** Raised whenever what is stored or sent changes its form; what has another number is not read. */
export const practiceVersion = 1;

const attempt = record({
  /** Milliseconds since 1970. */
  at: aNumber,
  landed: aFlag,
});
/** One try of a block that counts, as it was logged. */
export type LoggedAttempt = Shaped<typeof attempt>;

/** Why something was not done, in a sentence. */
export interface Refused {
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
export type PracticeOfferResult = PracticeOffer | Refused;

/** A block of one practice file. */
export interface BlockParams {
  /** The practice file. */
  readonly uri: string;
  readonly block: string;
  readonly technique: string;
}
/** What of a block counts so far. */
export interface BlockStand {
  readonly attempts: readonly LoggedAttempt[];
}

/** Editor → server: begins a block. */
export const practiceStartRequest = 'routewright/practiceStart';
export interface PracticeStartParams {
  readonly uri: string;
  readonly technique: string;
}
export type PracticeStartResult = { readonly block: string; readonly began: number } | Refused;

/** Editor → server: an attempt, its taking back, and how a block stands. Each is answered once it is written. */
export const practiceAttemptRequest = 'routewright/practiceAttempt';
export interface PracticeAttemptParams extends BlockParams {
  readonly landed: boolean;
}
export const practiceTakeBackRequest = 'routewright/practiceTakeBack';
export const practiceStandRequest = 'routewright/practiceStand';
export type BlockStandResult = BlockStand | Refused;

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
  | Refused;

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
export type LogWholeResult = { readonly id: string | null; readonly said: string } | Refused;

/** Editor → server: what one logged run changed in the review; a view in words. */
export const runReviewRequest = 'routewright/runReview';
export interface RunReviewParams {
  readonly uri: string;
  readonly id: string;
}

/** Server → editor, where there is no disk: keeps, and gives back, the journal of a file. */
export const keepJournalRequest = 'routewright/keepJournal';
export interface KeepJournalParams {
  readonly uri: string;
  readonly text: string;
}
/** Why it was not kept; null where it was. */
export type KeepJournalResult = string | null;
export const keptJournalRequest = 'routewright/keptJournal';
export interface KeptJournalParams {
  readonly uri: string;
}
export type KeptJournalResult = string | null;

/** What a key or a button of the view does. */
export const practiceActions = ['landed', 'missed', 'back', 'end'] as const;
const action = oneOf(...practiceActions);
export type PracticeAction = Shaped<typeof action>;

/** A key by its place on the keyboard, with its name for people. */
const key = record({ code: aText, name: aText });
export type BoundKey = Shaped<typeof key>;
/** A button of a gamepad, counted from 0. */
const padButton = record({ pad: aText, button: aNumber });
export type BoundButton = Shaped<typeof padButton>;
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
export type Bindings = Shaped<typeof bindingsShape>;

/** Letters as on a tape. A gamepad does nothing until somebody chooses its buttons. */
export const firstBindings: Bindings = {
  version: practiceVersion,
  keys: {
    landed: { code: 'KeyL', name: 'L' },
    missed: { code: 'KeyM', name: 'M' },
    back: { code: 'Backspace', name: 'Backspace' },
    end: { code: 'KeyE', name: 'E' },
  },
  pad: { landed: null, missed: null, back: null, end: null },
};

const planned = record({ technique: aText, name: aText, minutes: aNumber, from: aText });
/**
 * `block`: it runs. `up`: its time is up, the attempt under way still counts. `count`: it is over and nothing was
 * counted by key. `rest`: it is logged. `rested`: the rest is over, too.
 */
const phase = oneOf('block', 'up', 'count', 'rest', 'rested');
export type PracticePhase = Shaped<typeof phase>;

export const practiceDataShape = record({
  version: oneOf(practiceVersion),
  phase,
  route: aText,
  name: aText,
  from: aText,
  /** Seconds. */
  cycle: aNumber,
  /** The editor's clock as this was sent, ms since 1970, and on it: */
  now: aNumber,
  began: aNumber,
  ends: aNumber,
  restEnds: orNull(aNumber),
  attempts: listOf(attempt),
  /** What was said last; empty where there is nothing to say. */
  said: aText,
  promise: aText,
  caution: orNull(aText),
  /** Attempts have come slower than the route says. */
  slow: orNull(record({ text: aText, cycle: aNumber })),
  next: orNull(planned),
  /** Whether the next block is still being planned. */
  planning: aFlag,
  bindings: bindingsShape,
});
export type PracticeData = Shaped<typeof practiceDataShape>;

/** View → editor. */
export const fromPracticeShape = either(
  record({ type: oneOf('ready') }),
  record({ type: oneOf('press'), press: aNumber, action }),
  record({ type: oneOf('counts'), landed: aNumber, tries: aNumber }),
  record({
    type: oneOf('timeOnly', 'leaveOut', 'next', 'other', 'close', 'correct', 'keep', 'less', 'more'),
  }),
  record({ type: oneOf('bind'), bindings: bindingsShape }),
);
export type FromPractice = Shaped<typeof fromPracticeShape>;

/** Editor → view. `answered`: the press with this number is written, or was not. */
export const toPracticeShape = either(
  record({ type: oneOf('show'), data: practiceDataShape }),
  record({ type: oneOf('answered'), press: aNumber, written: aFlag }),
);
export type ToPractice = Shaped<typeof toPracticeShape>;
