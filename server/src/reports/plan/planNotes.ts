import type { Plan } from '../../model/week/planWeek.ts';
import { sessionLimits } from '../../model/week/sessions.ts';
import { leavingShare } from '../../model/rank/practiceSet.ts';
import { formatCount, formatTwoFigures, formatPercent } from '../../text/format.ts';

/** The words for the notes, and what is shown in another place. */
export interface PlanNotesOptions {
  readonly nameOf: (technique: string) => string;
  /** The name of a day, from its day number. */
  readonly dayOf: (day: number) => string;
  /** Minutes that the week gives each day for practice. */
  readonly givenMinutes: readonly number[];
  /** Whether the gain of one long session a week is shown outside the notes. */
  readonly sessionToldElsewhere: boolean;
}

/** Changes of the practice set within this many days get a sentence; later ones are too far away. */
const changeNoteDays = 14;

/**
 * What a person should know about a plan in addition to its days: whole sentences in a fixed order. The command line
 * and the editor show the same ones.
 */
export function planNotes(plan: Plan, words: PlanNotesOptions): string[] {
  return [
    ...minuteNotes(plan, words),
    ...plan.notPlanned.map(({ technique, reason }) => `${words.nameOf(technique)} is not planned. ${reason}`),
    ...changeNotes(plan, words),
    ...forecastNotes(plan, words),
    ...longDayNotes(plan, words),
  ];
}

function minuteNotes({ days, set }: Plan, { givenMinutes: given }: PlanNotesOptions): string[] {
  const notes: string[] = [];
  if (given.every((minutes) => minutes === 0)) {
    notes.push('The week file sets no minutes aside for practice (days:), so there is nothing to plan.');
  } else if (days.every(({ blocks }) => blocks.length === 0)) {
    notes.push(
      set.length === 0 && given.some((minutes) => minutes >= sessionLimits.shortest)
        ? 'No technique is left to practise.'
        : `No day has the ${sessionLimits.shortest} minutes that a block takes.`,
    );
  }
  const short = given.filter((minutes) => minutes > 0 && minutes < sessionLimits.shortest).length;
  if (short > 0)
    notes.push(
      `${formatCount(short, 'day')} with less than the ${sessionLimits.shortest} minutes of a block ${short === 1 ? 'stays' : 'stay'} free.`,
    );
  return notes;
}

function changeNotes({ asOfDay, changes }: Plan, { nameOf, dayOf }: PlanNotesOptions): string[] {
  return changes
    .filter(({ day }) => day < asOfDay + changeNoteDays)
    .map(({ day, technique, replacedBy, competent }) => {
      const why = competent
        ? 'should be competent by then: runs keep it up'
        : `is forecast to gain less than ${formatPercent(leavingShare)} as much per hour by then`;
      return `From ${dayOf(day)} on ${nameOf(replacedBy)} takes the place of ${nameOf(technique)}, which ${why}.`;
    });
}

function forecastNotes(
  { forecast, oneSession }: Plan,
  { dayOf, sessionToldElsewhere }: PlanNotesOptions,
): string[] {
  const last = forecast.at(-1);
  if (!last || !(last.gain > 0)) return [];
  const session = `The same minutes of the same techniques in one long session a week are forecast to gain ${formatTwoFigures(oneSession.gain)} s by ${dayOf(last.day)}, spread out as planned ${formatTwoFigures(last.gain)} s.`;
  return [
    ...(sessionToldElsewhere ? [] : [session]),
    'Runs to come are not foreseen: what they teach comes on top. Forecasts are ranges, and the plan is made anew with every log.',
  ];
}

function longDayNotes({ days }: Plan, { givenMinutes: given }: PlanNotesOptions): string[] {
  const long =
    given.some((minutes) => minutes > sessionLimits.twoHours) ||
    days.some(({ blocks }) => blocks.reduce((sum, { minutes }) => sum + minutes, 0) > sessionLimits.twoHours);
  if (!long) return [];
  return [
    'Long days tire hands and wrists: take the rests, and take pain as a reason to stop and see a clinician.',
  ];
}
