import { type Moment, runnerDayOf } from '../text/calendar.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { dayStartsOf } from './dayStarts.ts';
import { lastLoggedDay } from './modelLogs.ts';

/** The day that a person wants an answer for, before it is known whose logs the answer is about. */
export interface DayChoice {
  /** The runner's date and time of day, given from outside: nothing here reads a clock. */
  readonly now: Moment;
  /** A day number; `last`: the day after the last log entry; undefined: today. */
  readonly asked: number | 'last' | undefined;
}

/** The day that an answer is for, and why. */
export interface AnswerDay {
  /** Day number. Entries of this day count, later ones do not. */
  readonly day: number;
  readonly reason: DayReason;
  /** Day number of the last log entry up to {@link day}; undefined where there is none. */
  readonly lastLogged: number | undefined;
}

/** It was asked for, it follows the last log entry, or it is today. */
export type DayReason = 'asked' | 'last' | 'today';

/**
 * The day that an answer about a runner's files is for. A day begins at the hour in the week file. For `last`, entries
 * dated after today are not looked at, unless all are: then the clock is wrong and not the logs. Where nothing is logged,
 * the answer is for today.
 *
 * At 02:00 on 2026-10-06, with `day_starts: 04:00`, today is still 2026-10-05.
 */
export function answerDayOf(own: RunnerFiles, { now, asked }: DayChoice): AnswerDay {
  const dayStarts = dayStartsOf(own);
  const day = typeof asked === 'number' ? asked : runnerDayOf(now, dayStarts);
  const lastLogged = lastLoggedDay(own, dayStarts, day);
  if (typeof asked === 'number') return { day, reason: 'asked', lastLogged };
  if (asked === 'last') {
    const last = lastLogged ?? lastLoggedDay(own, dayStarts, Infinity);
    if (last !== undefined) return { day: last + 1, reason: 'last', lastLogged: last };
  }
  return { day, reason: 'today', lastLogged };
}

/** The one day for an answer about several runners' files: the latest of theirs. */
export function latestAnswerDay(owns: readonly RunnerFiles[], choice: DayChoice): AnswerDay {
  return owns
    .map((own) => answerDayOf(own, choice))
    .reduce((a, b) => {
      const logged = [a.lastLogged, b.lastLogged].filter((day) => day !== undefined);
      const lastLogged = logged.length > 0 ? Math.max(...logged) : undefined;
      return { ...(later(a, b) ? a : b), lastLogged };
    });
}

/** Whether `a` decides the day. An answer that follows a log entry is preferred to today's of files without logs. */
function later(a: AnswerDay, b: AnswerDay): boolean {
  if (a.reason !== b.reason) return a.reason === 'last';
  return a.day >= b.day;
}
