/** One technique's log read in order: what was counted, at which level of practice, and the state at the end. */
import type { Constants } from '../core/constants.ts';
import { clamp, finiteOr, median } from '../core/numbers.ts';
import { practiceLevel, applyPractice, unpractised } from './practiceState.ts';
import type { PracticeState } from './practiceState.ts';
import type { PracticeEntry, RunEntry, TechniqueModel } from '../core/types.ts';

/** Tries made at one level of practice. */
export interface TriesAtLevel {
  /** ln(1 + E/unit) at the middle of the entry. */
  readonly level: number;
  readonly tries: number;
}

/** All that was counted of one technique on one day, in practice or in runs. */
export interface DayCount {
  readonly day: number;
  readonly inRun: boolean;
  readonly landed: number;
  readonly tries: number;
  readonly readings: readonly TriesAtLevel[];
}

/** What the log says about one technique. */
export interface PracticeHistory {
  readonly days: readonly DayCount[];
  /** After the last entry. */
  readonly state: PracticeState;
  /** Attempts a minute to expect of a block. */
  readonly pace: number;
  /** Whether it was in the run before any practice of it was logged. */
  readonly headStart: boolean;
}

/** Most attempts and minutes one entry can stand for; more than this is a slip of the pen. */
const mostAttempts = 1e6;
const mostMinutes = 1440;

/** Shortest cycle, seconds, where a technique gives none: half a second. */
const shortestCycle = 0.5;

/** Readings of one day closer than this on the learning scale are taken together. */
const sameLevel = 0.1;

/** Seconds from one attempt's start to the next in practice. */
export function cycleSeconds(technique: TechniqueModel): number {
  const cycle = finiteOr(technique.attemptSeconds, 0) + finiteOr(technique.reloadSeconds, 0);
  return Math.max(cycle, shortestCycle);
}

/** Attempts a minute: the runner's own median where attempts were counted, else by the cycle. */
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
  let open = days.findLast((d) => d.day === day && d.inRun === inRun);
  if (open === undefined) {
    open = { day, inRun, landed: 0, tries: 0, readings: [] };
    days.push(open);
  }
  open.landed += landed;
  open.tries += tries;
  const last = open.readings.at(-1);
  if (last !== undefined && Math.abs(last.level - at) < sameLevel) {
    last.level = (last.level * last.tries + at * tries) / (last.tries + tries);
    last.tries += tries;
  } else {
    open.readings.push({ level: at, tries });
  }
}

/**
 * Reads one technique's entries in order of day and of `order` within the day.
 *
 * A block is read at the state before it plus half its own dose. Where attempts were not counted the dose uses
 * minutes times the pace; what was counted, and only that, becomes a day's count.
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
      const minutes = clamp(finiteOr(entry.minutes, 0), 0, mostMinutes);
      const count = counted(entry.counted);
      const made = Math.max(count.tries, finiteOr(entry.attempts ?? minutes * pace, minutes * pace));
      return { entry, inRun: false, minutes, count, attempts: clamp(made, 0, mostAttempts) };
    }),
    ...runs.map((entry) => {
      const count = counted(entry.counted);
      return { entry, inRun: true, minutes: 0, count, attempts: count.tries };
    }),
  ].filter((step) => Number.isFinite(step.entry.day));
  steps.sort((a, b) => a.entry.day - b.entry.day || a.entry.order - b.entry.order);

  const days: DayAccumulator[] = [];
  let state = unpractised;
  for (const { entry, inRun, minutes, count, attempts } of steps) {
    const { state: after, added } = applyPractice(state, entry.day, attempts, minutes, constants);
    const middle = practiceLevel(after.effective - added / 2, constants);
    addReading(days, entry.day, inRun, middle, count.landed, count.tries);
    state = after;
  }
  const headStart = steps[0]?.inRun ?? technique.state === 'in-run';
  return { days, state, pace, headStart };
}
