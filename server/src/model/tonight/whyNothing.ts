import type { Standing } from '../core/standing.ts';
import { minutesPractised } from '../week/minutesPractised.ts';
import type { Plan } from '../week/planWeek.ts';
import { sessionLimits } from '../week/sessions.ts';
import type { TonightInput } from './tonightInput.ts';

/** The next day with practice in the plan, as a day number, and the minutes that the week gives it. */
export interface NextPractice {
  readonly day: number;
  readonly minutes: number;
}

/** How many techniques there are of each kind that is not practised. */
export interface NotPractised {
  readonly competent: number;
  readonly leftOut: number;
  readonly waiting: number;
  /** No practice within the horizon is expected to make them pay. */
  readonly hopeless: number;
}

/** Why there is nothing to practise today. `next` is null if the plan has no later day with practice. */
export type NothingToPractise =
  | { readonly why: 'no techniques' }
  /** There are minutes, and no technique for them. */
  | { readonly why: 'nothing left'; readonly counts: NotPractised }
  /** The week gives today no minutes. */
  | { readonly why: 'no minutes'; readonly next: NextPractice | null }
  /** The minutes of today were practised already. */
  | { readonly why: 'minutes used'; readonly next: NextPractice | null }
  /** The minutes of today are fewer than a block takes. */
  | { readonly why: 'too few minutes'; readonly minutes: number; readonly next: NextPractice | null }
  /** Each technique of the set had its share of today. */
  | { readonly why: 'day is full'; readonly next: NextPractice | null };

/** Why the first day of a plan has no block; null if it has one. */
export function whyNothing(
  { plan: { route, logs, asOfDay, minutes }, givenMinutes }: TonightInput,
  { days, standings }: Plan,
): NothingToPractise | null {
  if ((days[0]?.blocks.length ?? 0) > 0) return null;
  if (route.techniques.length === 0) return { why: 'no techniques' };
  const later = days.findIndex(({ blocks }) => blocks.length > 0);
  const enough = minutes.some((free) => free >= sessionLimits.shortest);
  if (later < 0 && enough) return { why: 'nothing left', counts: countKinds(standings) };
  const next = later < 0 ? null : { day: days[later]!.day, minutes: givenMinutes[later] ?? 0 };
  const given = givenMinutes[0] ?? 0;
  if (!(given > 0)) return { why: 'no minutes', next };
  if ((minutes[0] ?? 0) >= sessionLimits.shortest) return { why: 'day is full', next };
  return minutesPractised(logs.practice, asOfDay) > 0
    ? { why: 'minutes used', next }
    : { why: 'too few minutes', minutes: given, next };
}

function countKinds(standings: readonly Standing[]): NotPractised {
  const count = (kind: Standing['kind']): number => standings.filter((one) => one.kind === kind).length;
  const counts = { competent: count('in-run'), leftOut: count('left-out'), waiting: count('waiting') };
  const { competent, leftOut, waiting } = counts;
  return { ...counts, hopeless: standings.length - competent - leftOut - waiting };
}
