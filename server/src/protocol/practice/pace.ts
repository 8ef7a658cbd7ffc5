import { formatNumber } from '../../text/format.ts';

/** One try of a block: when, in ms since 1970, and how it went. */
export interface PaceAttempt {
  readonly at: number;
  readonly landed: boolean;
}

/** The window, in milliseconds, over which attempts per minute are counted, and the time before which none is shown. */
const paceWindowMs = 120_000;
const minPaceMs = 20_000;
/** The window, in milliseconds, of the recent results: the last 30 seconds. */
const recentWindowMs = 30_000;

/** The pace as the practice view shows it. */
export interface Pace {
  /** `6.2`; words while there is no attempt, or too little time has passed. */
  readonly perMinute: string;
  /** `2 of 3`: landed attempts and tries of the last 30 s; words while there is none. */
  readonly lately: string;
}

/**
 * @param began when the block began, ms since 1970
 * @param now ms since 1970; the time that attempts are counted up to
 */
export function paceOf(attempts: readonly PaceAttempt[], began: number, now: number): Pace {
  const since = Math.max(began, now - paceWindowMs);
  const span = now - since;
  const attemptCount = attempts.filter(({ at }) => at > since && at <= now).length;
  const recent = attempts.filter(({ at }) => at > now - recentWindowMs && at <= now);
  const landed = recent.filter((one) => one.landed).length;
  if (attempts.length === 0) return { perMinute: 'none yet', lately: 'none yet' };
  return {
    perMinute:
      span < minPaceMs ? `after ${minPaceMs / 1000} s` : formatNumber((attemptCount * 60_000) / span, 1),
    lately: recent.length === 0 ? 'no attempt' : `${landed} of ${recent.length}`,
  };
}

/** How many of the last gaps count, and by how much their median must exceed the cycle: by a factor, and by seconds. */
const gapCount = 8;
const slowThreshold = { times: 1.5, seconds: 2 };

/** Attempts that come clearly more slowly than the cycle in the route. */
export interface SlowPace {
  /** Median seconds from one attempt to the next, rounded to half a second. */
  readonly cycle: number;
  readonly text: string;
}

/**
 * Whether the attempts of a block come clearly more slowly than the cycle in the route. The median of the last gaps
 * decides, so that one pause to read notes does not count. Undefined where they do not, or where there are too few
 * attempts.
 *
 * @param cycle seconds from one attempt's start to the next, from the route
 */
export function slowPace(attempts: readonly PaceAttempt[], cycle: number): SlowPace | undefined {
  const last = attempts.slice(-gapCount - 1);
  if (last.length <= gapCount) return undefined;
  const gaps = last
    .slice(1)
    .map(({ at }, index) => (at - last[index]!.at) / 1000)
    .sort((a, b) => a - b);
  const median = (gaps[gapCount / 2 - 1]! + gaps[gapCount / 2]!) / 2;
  if (median < cycle * slowThreshold.times || median < cycle + slowThreshold.seconds) return undefined;
  const usual = Math.round(2 * median) / 2;
  const lost = formatNumber(60 / cycle - 60 / median, 1);
  return {
    cycle: usual,
    text:
      `The last ${gapCount + 1} attempts came about ${usual} s apart; the route says ${cycle} s. ` +
      `A quicker way back would make room for ${lost} more per minute. If it has to take that long, correct the cycle: the ranking counts with it.`,
  };
}

/** Milliseconds as `18:42`, at least `0:00`; a part of a second counts as a whole one. */
export function clockText(milliseconds: number): string {
  const seconds = Math.max(0, Math.ceil(milliseconds / 1000));
  const rest = String(seconds % 60).padStart(2, '0');
  return `${Math.floor(seconds / 60)}:${rest}`;
}

/** Minutes of rest after a block, and after every hour of practice: common practice of runners, no source. */
const rest = { usual: 5, long: 10, after: 60 };

/**
 * Minutes to rest after a block.
 *
 * @param before minutes practised today before the block
 * @param minutes of the block
 */
export function restMinutesAfter(before: number, minutes: number): number {
  const hours = (practised: number): number => Math.floor(Math.round(10 * practised) / 10 / rest.after);
  return hours(before + minutes) > hours(before) ? rest.long : rest.usual;
}

/** A sentence that sums up a finished block; under a minute in seconds. */
export function blockSummary(name: string, minutes: number, landed: number, tries: number): string {
  const lasted =
    minutes < 1
      ? `${formatNumber(60 * minutes, 0)} s`
      : `${formatNumber(minutes, Number.isInteger(minutes) ? 0 : 1)} min`;
  const length = `${lasted} of ${name}`;
  return tries === 0 ? `${length}.` : `${length}: ${landed} of ${tries} landed.`;
}
