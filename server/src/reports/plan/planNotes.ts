import type { Plan } from '../../model/week/planWeek.ts';
import { limits } from '../../model/week/sessions.ts';
import { leavingShare } from '../../model/rank/practiceSet.ts';
import { counted, formatFigures, formatShare } from '../../text/format.ts';

/** How the notes speak of things, and what is said elsewhere. */
export interface NoteWords {
  readonly nameOf: (technique: string) => string;
  /** A day by its number. */
  readonly dayOf: (day: number) => string;
  /** Minutes that the week gives each day for practice. */
  readonly givenMinutes: readonly number[];
  /** Whether the gain of one long session a week is told beside the notes. */
  readonly sessionToldElsewhere: boolean;
}

/** Changes of the set that are told; later ones are too far off to be worth a sentence. */
const toldDays = 14;

/**
 * What there is to know about a plan besides its days, as whole sentences in an order that stays the same: the command
 * line and the editor say the same.
 */
export function planNotes(plan: Plan, words: NoteWords): string[] {
  return [
    ...minuteNotes(plan, words),
    ...plan.notPlanned.map(({ technique, reason }) => `${words.nameOf(technique)} is not planned. ${reason}`),
    ...changeNotes(plan, words),
    ...forecastNotes(plan, words),
    ...longDayNotes(plan, words),
  ];
}

function minuteNotes({ days, set }: Plan, { givenMinutes: given }: NoteWords): string[] {
  const notes: string[] = [];
  if (given.every((minutes) => minutes === 0)) {
    notes.push('The week file sets no minutes aside for practice (days:), so there is nothing to plan.');
  } else if (days.every(({ blocks }) => blocks.length === 0)) {
    notes.push(
      set.length === 0 && given.some((minutes) => minutes >= limits.shortest)
        ? 'No technique is left to practise.'
        : `No day has the ${limits.shortest} minutes that a block takes.`,
    );
  }
  const short = given.filter((minutes) => minutes > 0 && minutes < limits.shortest).length;
  if (short > 0)
    notes.push(
      `${counted(short, 'day')} with less than the ${limits.shortest} minutes of a block ${short === 1 ? 'stays' : 'stay'} free.`,
    );
  return notes;
}

function changeNotes({ asOfDay, changes }: Plan, { nameOf, dayOf }: NoteWords): string[] {
  return changes
    .filter(({ day }) => day < asOfDay + toldDays)
    .map(({ day, technique, replacedBy, competent }) => {
      const why = competent
        ? 'should be competent by then: runs keep it up'
        : `is forecast to gain less than ${formatShare(leavingShare)} as much per hour by then`;
      return `From ${dayOf(day)} on ${nameOf(replacedBy)} takes the place of ${nameOf(technique)}, which ${why}.`;
    });
}

function forecastNotes({ forecast, oneSession }: Plan, { dayOf, sessionToldElsewhere }: NoteWords): string[] {
  const last = forecast.at(-1);
  if (!last || !(last.gain > 0)) return [];
  const session = `The same minutes of the same techniques in one long session a week are forecast to gain ${formatFigures(oneSession.gain)} s by ${dayOf(last.day)}, spread out as planned ${formatFigures(last.gain)} s.`;
  return [
    ...(sessionToldElsewhere ? [] : [session]),
    'Runs to come are not foreseen: what they teach comes on top. Forecasts are ranges, and the plan is made anew with every log.',
  ];
}

function longDayNotes({ days }: Plan, { givenMinutes: given }: NoteWords): string[] {
  const long =
    given.some((minutes) => minutes > limits.twoHours) ||
    days.some(({ blocks }) => blocks.reduce((sum, { minutes }) => sum + minutes, 0) > limits.twoHours);
  if (!long) return [];
  return [
    'Long days tire hands and wrists: take the rests, and take pain as a reason to stop and see a clinician.',
  ];
}
