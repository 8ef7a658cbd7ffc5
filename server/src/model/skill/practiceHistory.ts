/**
 * Reads one technique's log in order: the counts of each day, the level of practice they were made at, and the
 * state at the end.
 */
import type { Constants } from '../core/constants.ts';
import { clamp, finiteOr, median, minutesPerDay } from '../core/numbers.ts';
import { practiceLevel, applyPractice, unpractised } from './practiceState.ts';
import type { PracticeState } from './practiceState.ts';
import type { PracticeEntry, RunEntry, TechniqueModel } from '../core/types.ts';

/** Tries made at one level of practice. */
export interface TriesAtLevel {
  /** ln(1 + E/unit) at the middle of the entry. */
  readonly level: number;
  readonly tries: number;
}

/** All counts of one technique on one day, either in practice or in runs. */
export interface DayCount {
  readonly day: number;
  readonly inRun: boolean;
  readonly landed: number;
  readonly tries: number;
  readonly readings: readonly TriesAtLevel[];
}

/** The practice of one technique on one day. */
export interface PractisedDay {
  readonly day: number;
  readonly minutes: number;
}

/** What the log says about one technique. */
export interface PracticeHistory {
  /** The days on which it was practised, with the minutes of each, in order. Days with runs only are not among them. */
  readonly practised: readonly PractisedDay[];
  readonly days: readonly DayCount[];
  /** The state after the last entry of each day with entries, in order. */
  readonly states: readonly PracticeState[];
  /** The state after the last entry. */
  readonly state: PracticeState;
  /** Expected attempts per minute of a block. */
  readonly pace: number;
  /** Whether it was in the run before any practice of it was logged. */
  readonly headStart: boolean;
}

/** Most attempts that one entry can have; a larger number is taken for a typing error, as are minutes beyond a day. */
const mostAttempts = 1e6;

/** Shortest cycle, in seconds. A smaller one, or none at all, is replaced by this. */
const shortestCycle = 0.5;

/** Entries of one day whose levels differ by less than this (in ln(1 + E/unit)) are combined. */
const sameLevel = 0.1;

/** Seconds from one attempt's start to the next in practice. */
export function cycleSeconds(technique: TechniqueModel): number {
  const cycle = finiteOr(technique.attemptSeconds, 0) + finiteOr(technique.reloadSeconds, 0);
  return Math.max(cycle, shortestCycle);
}

/** Attempts per minute: the runner's own median if attempts were logged, otherwise from the length of the cycle. */
export function estimatePace(entries: readonly PracticeEntry[], technique: TechniqueModel): number {
  const seen: number[] = [];
  for (const entry of entries) {
    const attempts = entry.attempts;
    if (attempts !== undefined && attempts > 0 && entry.minutes > 0 && Number.isFinite(entry.minutes)) {
      seen.push(Math.min(attempts, mostAttempts) / entry.minutes);
    }
  }
  return median(seen) ?? 60 / cycleSeconds(technique);
}

function counted(count: { readonly landed: number; readonly tries: number } | undefined): {
  landed: number;
  tries: number;
} {
  const tries = clamp(Math.round(finiteOr(count?.tries ?? 0, 0)), 0, mostAttempts);
  return { tries, landed: clamp(Math.round(finiteOr(count?.landed ?? 0, 0)), 0, tries) };
}

interface DayAccumulator {
  day: number;
  inRun: boolean;
  landed: number;
  tries: number;
  readings: { level: number; tries: number }[];
}

function addReading(
  days: DayAccumulator[],
  day: number,
  inRun: boolean,
  at: number,
  landed: number,
  tries: number,
) {
  if (tries === 0) return;
  let total = days.findLast((d) => d.day === day && d.inRun === inRun);
  if (total === undefined) {
    total = { day, inRun, landed: 0, tries: 0, readings: [] };
    days.push(total);
  }
  total.landed += landed;
  total.tries += tries;
  const last = total.readings.at(-1);
  if (last !== undefined && Math.abs(last.level - at) < sameLevel) {
    last.level = (last.level * last.tries + at * tries) / (last.tries + tries);
    last.tries += tries;
  } else {
    total.readings.push({ level: at, tries });
  }
}

/**
 * Reads one technique's entries in order of day and of `order` within the day.
 *
 * The counts of a block are assigned to the level before the block plus half its own dose. If attempts were not
 * logged, the dose uses minutes times the pace; a day's count contains only what was counted.
 */
export function readHistory(
  technique: TechniqueModel,
  practice: readonly PracticeEntry[],
  runs: readonly RunEntry[],
  constants: Constants,
): PracticeHistory {
  const pace = estimatePace(practice, technique);
  const steps = [
    ...practice.map((entry) => {
      const minutes = clamp(finiteOr(entry.minutes, 0), 0, minutesPerDay);
      const count = counted(entry.counted);
      const attempts = Math.max(count.tries, finiteOr(entry.attempts ?? minutes * pace, minutes * pace));
      return { entry, inRun: false, minutes, count, attempts: clamp(attempts, 0, mostAttempts) };
    }),
    ...runs.map((entry) => {
      const count = counted(entry.counted);
      return { entry, inRun: true, minutes: 0, count, attempts: count.tries };
    }),
  ].filter((step) => Number.isFinite(step.entry.day));
  steps.sort((a, b) => a.entry.day - b.entry.day || a.entry.order - b.entry.order);

  const days: DayAccumulator[] = [];
  const practised: PractisedDay[] = [];
  const states: PracticeState[] = [];
  let state = unpractised;
  for (const { entry, inRun, minutes, count, attempts } of steps) {
    if (!inRun && (minutes > 0 || attempts > 0)) {
      const today = practised.at(-1)?.day === entry.day ? practised.pop()!.minutes : 0;
      practised.push({ day: entry.day, minutes: today + minutes });
    }
    const { state: after, added } = applyPractice(state, entry.day, attempts, minutes, constants);
    const middle = practiceLevel(after.effective - added / 2, constants);
    addReading(days, entry.day, inRun, middle, count.landed, count.tries);
    state = after;
    if (states.at(-1)?.day === after.day) states.pop();
    states.push(after);
  }
  const headStart = steps[0]?.inRun ?? technique.state === 'in-run';
  return { practised, states, days, state, pace, headStart };
}
