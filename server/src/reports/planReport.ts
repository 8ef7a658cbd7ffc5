import { formatDate } from '../files/calendar.ts';
import type { Plan, PlanGap } from '../model/week/plan.ts';
import { limits } from '../model/week/sessions.ts';
import { counted, formatFigures, listed } from './format.ts';

export interface PlanReportBlock {
  readonly technique: string;
  /** Minutes of practice, and of rest after it. */
  readonly minutes: number;
  readonly rest: number;
}

export interface PlanReportDay {
  readonly date: string;
  readonly blocks: readonly PlanReportBlock[];
  /** Minutes set aside for runs. */
  readonly runMinutes: number;
}

/** The plan with what it stands on: `plan --json` prints it and the editor shows it. Gains are seconds of a run. */
export interface PlanReport {
  /** Date of the morning on which the question is asked. */
  readonly asOf: string;
  /** The practice set of the first session. */
  readonly set: readonly string[];
  readonly days: readonly PlanReportDay[];
  /** Expected gain on each morning against no practice, with 10 and 90 % points. */
  readonly forecast: readonly {
    readonly date: string;
    readonly gain: number;
    readonly low: number;
    readonly high: number;
  }[];
  /** Gain on the last morning if each week's practice were one long session. */
  readonly oneSession: { readonly gain: number };
  readonly gap: PlanGap;
  /** Whole sentences, in an order that stays the same. */
  readonly notes: readonly string[];
}

/** What the report says beyond the plan. */
export interface PlanWords {
  /** Minutes set aside for runs by day, and the minutes that the week gives each day for practice. */
  readonly runMinutes: readonly number[];
  readonly givenMinutes: readonly number[];
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
}

/** Changes of the set that are told; later ones are too far off to be worth a sentence. */
const toldDays = 14;

export function planReport(plan: Plan, words: PlanWords): PlanReport {
  return {
    asOf: formatDate(plan.asOfDay),
    set: plan.set,
    days: plan.days.map(({ day, blocks }, d) => ({
      date: formatDate(day),
      blocks: blocks.map(({ technique, minutes, rest }) => ({ technique, minutes, rest })),
      runMinutes: words.runMinutes[d] ?? 0,
    })),
    forecast: plan.forecast.map(({ day, gain, low, high }) => ({ date: formatDate(day), gain, low, high })),
    oneSession: plan.oneSession,
    gap: plan.gap,
    notes: notesOf(plan, words),
  };
}

function notesOf(plan: Plan, words: PlanWords): string[] {
  const name = (id: string): string => words.names.get(id) ?? id;
  const notes: string[] = [];
  const given = words.givenMinutes;
  if (given.every((minutes) => minutes === 0)) {
    notes.push('The week file sets no minutes aside for practice (days:), so there is nothing to plan.');
  } else if (plan.days.every(({ blocks }) => blocks.length === 0)) {
    notes.push(
      plan.set.length === 0 && given.some((minutes) => minutes >= limits.shortest)
        ? 'No technique is left to practise.'
        : `No day has the ${limits.shortest} minutes that a block takes.`,
    );
  }
  const short = given.filter((minutes) => minutes > 0 && minutes < limits.shortest).length;
  if (short > 0)
    notes.push(
      `${counted(short, 'day')} with less than the ${limits.shortest} minutes of a block ${short === 1 ? 'stays' : 'stay'} free.`,
    );
  for (const { technique, reason } of plan.notPlanned)
    notes.push(`${name(technique)} is not planned. ${reason}`);
  for (const { day, technique, replacedBy, competent } of plan.changes) {
    if (day >= plan.asOfDay + toldDays) break;
    const why = competent
      ? 'should be competent by then: runs keep it up'
      : 'has come to gain less than half as much per hour';
    notes.push(
      `From ${formatDate(day)} on ${name(replacedBy)} takes the place of ${name(technique)}, which ${why}.`,
    );
  }
  const last = plan.forecast.at(-1);
  if (last && last.gain > 0) {
    notes.push(
      `The same minutes of the same techniques in one long session a week are forecast to gain ${formatFigures(plan.oneSession.gain)} s by ${formatDate(last.day)}, spread out as planned ${formatFigures(last.gain)} s.`,
    );
    notes.push(
      'Runs to come are not foreseen: what they teach comes on top. Forecasts are ranges, and the plan is made anew with every log.',
    );
  }
  const long = plan.days.filter(
    ({ blocks }) => blocks.reduce((sum, b) => sum + b.minutes, 0) > limits.twoHours,
  );
  if (long.length > 0 || given.some((minutes) => minutes > limits.twoHours))
    notes.push(
      'Long days tire hands and wrists: take the rests, and take pain as a reason to stop and see a clinician.',
    );
  return notes;
}

/** Names of the set, as a list in words. */
export function setInWords({ set }: PlanReport, names: ReadonlyMap<string, string>): string {
  return set.length === 0 ? 'none' : listed(set.map((id) => names.get(id) ?? id));
}
