import type { Weekday } from '../files/documents/documents.ts';
import { minutesPractised } from '../model/week/minutesPractised.ts';
import type { PlanInput } from '../model/week/planWeek.ts';
import { currentTechniqueId, type Project } from '../workspace/project.ts';
import { buildModelInput, type ModelInputOptions, type ModelInput } from './modelInput.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';

/** The planner's input for a project. */
export interface WeekInput extends ModelInput {
  readonly planInput: PlanInput;
  /** Minutes set aside for runs on each day; 0 on days off. */
  readonly runMinutes: readonly number[];
  /** Minutes of practice that the week file gives each day, whether practised already or not; 0 on days off. */
  readonly givenMinutes: readonly number[];
}

/** Number of weeks that are planned and forecast, where nobody asks for another number. */
export const weeksAhead = 4;

/** Most weeks that are planned. */
export const mostWeeks = 12;

const weekdays: readonly Weekday[] = ['sun', 'mon', 'tue', 'wed', 'thu', 'fri', 'sat'];

/** Day of the week of a day number: 1970-01-01 was a Thursday. */
export function weekdayOf(day: number): Weekday {
  return weekdays[(((day + 4) % 7) + 7) % 7]!;
}

/** Minutes of rest before a day's practice continues that has begun already. */
const restMinutes = 5;

/**
 * Makes the planner's input from a project's files: the minutes of each day from the day of the plan on. Days off have
 * none, and today has what remains after the practice logged so far.
 */
export function buildWeekInput(
  project: Project,
  own: RunnerFiles,
  weeks: number,
  options: Omit<ModelInputOptions, 'all'>,
): WeekInput {
  return weekInputFrom(buildModelInput(project, own, { ...options, all: true }), project, own, weeks);
}

/** The same, from a model input that was made from the same files. */
export function weekInputFrom(
  input: ModelInput,
  project: Project,
  own: RunnerFiles,
  weeks: number,
): WeekInput {
  const modelInput = { ...input, options: { ...input.options, all: true } };
  const week = own.week?.document;
  const off = new Set(week?.off.map(({ date }) => date));
  const days = Array.from({ length: 7 * weeks }, (_, d) => modelInput.asOfDay + d);
  const of = (minutes: Readonly<Partial<Record<Weekday, number>>> | undefined): number[] =>
    days.map((day) => (off.has(day) ? 0 : (minutes?.[weekdayOf(day)] ?? 0)));
  const givenMinutes = of(week?.days);
  const done = minutesPractised(modelInput.logs.practice, modelInput.asOfDay);
  const leftToday = Math.max(0, (givenMinutes[0] ?? 0) - done);
  const restBefore = done > 0 ? Math.min(restMinutes, leftToday) : 0;
  const minutes = givenMinutes.map((free, d) => (d === 0 ? leftToday - restBefore : free));
  const pin = (week?.pin ?? []).map(({ id }) => currentTechniqueId(project, id) ?? id);
  return {
    ...modelInput,
    planInput: { ...modelInput, minutes, restBefore, pin },
    runMinutes: of(week?.runs),
    givenMinutes,
  };
}
