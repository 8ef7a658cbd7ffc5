import { countRange } from '../../model/skill/countRange.ts';
import type { AttemptCount, Logs } from '../../model/core/types.ts';
import type { ProgressInput } from '../../queries/progressInput.ts';
import { bestTimes, type BestTimes } from './bestTimes.ts';
import { periodAt, periodsOf, type Period, type Periods } from './progressPeriods.ts';

/** What was counted in a stretch of time, at least one try. */
export interface CountedRate extends AttemptCount {
  /** landed / tries, 0 to 1. */
  readonly rate: number;
  /** Where there are few tries: the range that they leave, by {@link countRange}; else null. */
  readonly range: { readonly low: number; readonly high: number } | null;
}

/** The landing rate of one technique over the periods. */
export interface RateHistory {
  /** One for each period; null where nothing was tried. */
  readonly points: readonly (CountedRate | null)[];
  /** All shown periods together; null where nothing was tried in them. */
  readonly shown: CountedRate | null;
}

export interface TechniqueProgress {
  readonly technique: string;
  readonly practice: RateHistory;
  readonly run: RateHistory;
  /** Minutes of practice in each period. */
  readonly minutes: readonly number[];
  /** Minutes of practice in the shown periods, and ever. */
  readonly shownMinutes: number;
  readonly allMinutes: number;
  /** Whether anything of it was ever logged. */
  readonly isLogged: boolean;
}

/** Minutes of all blocks, whatever they were on. */
export interface PracticeTime {
  readonly byPeriod: readonly PeriodPractice[];
  readonly shownMinutes: number;
  readonly allMinutes: number;
}

export interface PeriodPractice {
  readonly minutes: number;
  /** The same as hours a week; of the period that has not ended yet, the days up to today count, but at least a week. */
  readonly hoursAWeek: number;
}

/** What the logs say over the months: counts and sums of what was logged, no estimate. */
export interface ProgressReport extends Periods {
  /** Day number. */
  readonly asOfDay: number;
  /** Day number of the first entry. */
  readonly firstDay: number;
  /** In the order of the route. */
  readonly techniques: readonly TechniqueProgress[];
  readonly times: BestTimes;
  readonly practice: PracticeTime;
}

/** With fewer tries than this, a rate is told with the range that they leave. */
export const fewTries = 30;

/**
 * Landing rates, best times and hours of practice over the months; undefined where nothing is logged.
 *
 * @param months how many months to look back, this one included; left out: all, but at most 36
 */
export function progressReport(input: ProgressInput, months?: number): ProgressReport | undefined {
  const { asOfDay, firstDay, logs, techniques } = input;
  if (firstDay === undefined) return undefined;
  const shown = periodsOf(firstDay, asOfDay, months);
  const { periods } = shown;
  const sums = sumsByTechnique(logs, periods);
  return {
    ...shown,
    asOfDay,
    firstDay,
    techniques: techniques.map((technique) => techniqueProgress(technique, sums.get(technique), periods)),
    times: bestTimes(input.finishedRuns, periods, input.target),
    practice: practiceTime(input.blocks, periods, asOfDay),
  };
}

/** Sums of one technique while the logs are read. */
interface Sums {
  readonly practice: (Tally | undefined)[];
  readonly run: (Tally | undefined)[];
  readonly minutes: number[];
  allMinutes: number;
}
interface Tally {
  landed: number;
  tries: number;
}

function sumsByTechnique({ practice, runs }: Logs, periods: readonly Period[]): ReadonlyMap<string, Sums> {
  const byId = new Map<string, Sums>();
  const sumsOf = (technique: string): Sums => {
    const known = byId.get(technique);
    if (known) return known;
    const made: Sums = { practice: [], run: [], minutes: periods.map(() => 0), allMinutes: 0 };
    byId.set(technique, made);
    return made;
  };
  for (const { technique, day, minutes, counted } of practice) {
    const sums = sumsOf(technique);
    const at = periodAt(periods, day);
    sums.allMinutes += minutes;
    if (at < 0) continue;
    sums.minutes[at]! += minutes;
    if (counted) add(sums.practice, at, counted);
  }
  for (const { technique, day, counted } of runs) {
    const sums = sumsOf(technique);
    const at = periodAt(periods, day);
    if (at >= 0) add(sums.run, at, counted);
  }
  return byId;
}

function add(tallies: (Tally | undefined)[], at: number, { landed, tries }: AttemptCount): void {
  const tally = (tallies[at] ??= { landed: 0, tries: 0 });
  tally.landed += landed;
  tally.tries += tries;
}

function techniqueProgress(
  technique: string,
  sums: Sums | undefined,
  periods: readonly Period[],
): TechniqueProgress {
  const minutes = sums?.minutes ?? periods.map(() => 0);
  return {
    technique,
    practice: rateHistory(sums?.practice ?? [], periods),
    run: rateHistory(sums?.run ?? [], periods),
    minutes,
    shownMinutes: sumOf(minutes),
    allMinutes: sums?.allMinutes ?? 0,
    isLogged: sums !== undefined,
  };
}

function rateHistory(tallies: readonly (Tally | undefined)[], periods: readonly Period[]): RateHistory {
  const points = periods.map((_, at) => countedRate(tallies[at]));
  const landed = sumOf(points.map((point) => point?.landed ?? 0));
  const tries = sumOf(points.map((point) => point?.tries ?? 0));
  return { points, shown: countedRate({ landed, tries }) };
}

function countedRate(tally: Tally | undefined): CountedRate | null {
  if (!tally || tally.tries === 0) return null;
  const { landed, tries } = tally;
  return { landed, tries, rate: landed / tries, range: tries < fewTries ? countRange(tally) : null };
}

function practiceTime(
  blocks: ProgressInput['blocks'],
  periods: readonly Period[],
  asOfDay: number,
): PracticeTime {
  const minutes = periods.map(() => 0);
  let allMinutes = 0;
  for (const block of blocks) {
    allMinutes += block.minutes;
    const at = periodAt(periods, block.day);
    if (at >= 0) minutes[at]! += block.minutes;
  }
  const byPeriod = periods.map(({ from, to }, at) => {
    const days = Math.max(7, Math.min(to, asOfDay) - from + 1);
    return { minutes: minutes[at]!, hoursAWeek: (7 * minutes[at]!) / (60 * days) };
  });
  return { byPeriod, shownMinutes: sumOf(minutes), allMinutes };
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, one) => sum + one, 0);
}
