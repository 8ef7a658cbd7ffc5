/** Where a technique stands, with what that rests on. */
import type { AttemptCount, StandingKind } from './types.ts';

/** Why a technique cannot be ordered by its needs. */
export type NeedFault =
  | { readonly kind: 'unknown'; readonly need: string }
  | { readonly kind: 'loop'; readonly loop: readonly string[] };

/** Why a technique waits. */
export type Obstacle =
  | NeedFault
  | { readonly kind: 'left out'; readonly need: string }
  | { readonly kind: 'not ready'; readonly need: string };

/** The comparison of a week's runs with the prediction. */
export interface SlipTest {
  /** Counts of the week: landed and tries. */
  readonly week: AttemptCount;
  /** Counts of the four weeks before: landed and tries. */
  readonly earlier: AttemptCount;
  /** Expected number of landings in the week, as the model predicts them. */
  readonly expected: number;
  /**
   * Chance of so few or fewer landings if nothing slipped, as the model predicts them; half of the chance of exactly
   * this count is left out.
   */
  readonly chance: number;
  /** Whether the test is significant after the correction for all techniques tested that week. */
  readonly slipped: boolean;
}

/** Why a technique stands where it does. Days are day numbers, chances fractions. */
export type StandingCause =
  /** The week file leaves it out. */
  | { readonly why: 'left out' }
  | { readonly why: 'waits'; readonly obstacle: Obstacle }
  /** It needs an item that nothing in the run picks up. */
  | { readonly why: 'item'; readonly item: string }
  /** Its runs landed less often than before. */
  | { readonly why: 'slipped'; readonly test: SlipTest }
  /** Trying it in runs costs time, with the asked confidence. */
  | { readonly why: 'costs time' }
  /** It is tried in runs, costs time there and was never seen to be competent. */
  | { readonly why: 'never landed enough' }
  /** Trying it in runs costs time, and practice is unlikely to change that within the horizon. */
  | { readonly why: 'out of reach'; readonly chance: number }
  /** It slipped or cost time, last on the evening of `day`, and is not competent again. */
  | { readonly why: 'not back yet'; readonly day: number; readonly slipped: boolean }
  /** It was competent, and the chance that trying it pays fell under a half, last on the evening of `day`. */
  | { readonly why: 'fallen'; readonly day: number }
  /** The chance that trying it pays has reached the asked confidence. */
  | { readonly why: 'competent' }
  /** The chance reached the confidence, last on `day`, and has not fallen under a half since. */
  | { readonly why: 'was competent'; readonly day: number }
  /** The runner tries it in runs, and nothing speaks against it. `written`: the week file says so. */
  | { readonly why: 'tried in runs'; readonly written: boolean }
  /** It saves time at no landing rate, and opens nothing. */
  | { readonly why: 'never pays' }
  /** It saves nothing by itself, and lands often enough to carry the techniques that it opens. */
  | { readonly why: 'carries'; readonly opens: readonly string[] }
  /** Practised on so many days, for so many minutes, since it was taken up. */
  | { readonly why: 'practised'; readonly days: number; readonly minutes: number }
  /** The week file says that it is being learned. */
  | { readonly why: 'taken up by hand' }
  /** After that much practice, the chance that it will pay within the horizon is small. */
  | { readonly why: 'hopeless'; readonly days: number; readonly minutes: number; readonly chance: number }
  /** Not practised for so many sessions in which others were. */
  | { readonly why: 'not practised'; readonly sessions: number; readonly lastDay: number }
  /** The week file says that it is not begun, though it was practised. */
  | { readonly why: 'put aside by hand' }
  /** Nothing was logged. */
  | { readonly why: 'nothing logged' };

export interface Standing {
  readonly technique: string;
  readonly kind: StandingKind;
  /** Day number from which it holds; null if that cannot be said. */
  readonly since: number | null;
  readonly cause: StandingCause;
  /** Chance that trying it in a run pays today; 0 if it pays at no landing rate. */
  readonly chancePays: number;
  /** Landing rate in a run from which trying pays; null if it pays at none. */
  readonly breakEven: number | null;
  /** Mean landing rate in a run today. */
  readonly runNow: number;
  /** Whether it is tried in runs today, by the runner's word or the last runs. */
  readonly tried: boolean;
  /** Whether trying it in a run today is expected to pay. */
  readonly worthTrying: boolean;
}

/** Whether a technique is in the practice set by where it stands. */
export function isInSet({ kind }: Pick<Standing, 'kind'>): boolean {
  return kind === 'again' || kind === 'learning';
}
