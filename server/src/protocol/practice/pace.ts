import { formatNumber } from '../../text/format.ts';

/** One try of a block: when, in ms since 1970, and how it went. */
export interface PaceAttempt {
  readonly at: number;
  readonly landed: boolean;
}

/** Milliseconds over which attempts a minute are counted, and after which there is anything to say. */
const paceWindowMs = 120_000;
const minPaceMs = 20_000;
/** Milliseconds that are the last 30 seconds. */
const recentWindowMs = 30_000;

/** What the practice view says of the pace. */
export interface Pace {
  /** `6.2`; a dash where it is too early to tell. */
  readonly perMinute: string;
  /** `2 of 3` of the last 30 s. */
  readonly lately: string;
}

/**
 * @param began when the block began, ms since 1970
 * @param now ms since 1970; the time that attempts are counted up to
 */
export function paceOf(attempts: readonly PaceAttempt[], began: number, now: number): Pace {
  const since = Math.max(began, now - paceWindowMs);
  const span = now - since;
  const made = attempts.filter(({ at }) => at > since && at <= now).length;
  const late = attempts.filter(({ at }) => at > now - recentWindowMs && at <= now);
  const landed = late.filter((one) => one.landed).length;
  return {
    perMinute: span < minPaceMs || attempts.length === 0 ? '–' : formatNumber((made * 60_000) / span, 1),
    lately: late.length === 0 ? '–' : `${landed} of ${late.length}`,
  };
}

/** Gaps that are looked at, and by how much the usual one must be over the cycle: a factor, and seconds. */
const gapCount = 8;
const slowThreshold = { times: 1.5, seconds: 2 };

/** Attempts that come well slower than the route says. */
export interface SlowPace {
  /** Seconds from one attempt to the next as it usually is, to a half. */
  readonly cycle: number;
  readonly text: string;
}

/**
 * Whether the attempts of a block come well slower than the cycle in the route: by the median of the last gaps, so
 * that one look at the notes is not taken for a slow way back. Undefined where they do not, or too few were made.
 *
 * @param cycle seconds from one attempt's start to the next, as the route has it
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
      `The last ${gapCount + 1} attempts came some ${usual} s apart; the route says ${cycle} s. ` +
      `A quicker way back would make room for ${lost} more a minute. If it takes that long, correct the cycle, and the ranking counts with it.`,
  };
}

/** `18:42` of milliseconds, never below nought; a second that has begun counts. */
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

/** The block that is over, in a sentence. */
export function blockSummary(name: string, minutes: number, landed: number, tries: number): string {
  const length = `${formatNumber(minutes, Number.isInteger(minutes) ? 0 : 1)} min of ${name}`;
  return tries === 0 ? `${length}.` : `${length}: ${landed} of ${tries} landed.`;
}
