/**
 * Times as runners write them: seconds (`92.4`), `m:ss.s` or `h:mm:ss.s`. As many digits as a run can need: below a
 * million seconds, 10,000 minutes or 100 hours, as in the schemas of the files.
 */
const timePattern = /^(?:(?:(\d{1,2}):)?(\d{1,4}):)?(\d{1,6}(?:\.\d+)?)$/;
const rangePattern = /^(\d{1,6}(?:\.\d+)?)\.\.(\d{1,6}(?:\.\d+)?)$/;

/** Seconds: no number is taken for a longer time. */
const longestSeconds = 999_999;

/**
 * Seconds of a written time; undefined where it is not a time, or longer than any run. Minutes and seconds after a colon
 * must be below 60.
 *
 * @example
 * parseTime('41:30') // 2490
 * parseTime('soon') // undefined
 */
export function parseTime(written: number | string): number | undefined {
  if (typeof written === 'number') return written >= 0 && written <= longestSeconds ? written : undefined;
  const match = timePattern.exec(written.trim());
  if (!match) return undefined;
  const [, hours, minutes, last] = match;
  const seconds = Number(last);
  if (minutes === undefined) return seconds;
  // Two digits after every colon, as on a clock.
  if (!/^\d\d(?:\.|$)/.test(last!) || seconds >= 60) return undefined;
  if (hours === undefined) return Number(minutes) * 60 + seconds;
  if (minutes.length !== 2 || Number(minutes) >= 60) return undefined;
  return Number(hours) * 3600 + Number(minutes) * 60 + seconds;
}

/**
 * Writes seconds as `s`, `m:ss` or `h:mm:ss`, with `digits` decimals.
 * Rounds before it splits, so that 59.96 with one decimal is 1:00.0 and never 0:60.0.
 *
 * @example
 * formatTime(2490) // '41:30.0'
 */
export function formatTime(seconds: number, digits = 1): string {
  const scale = 10 ** digits;
  const units = Math.round(Math.abs(seconds) * scale);
  const sign = seconds < 0 && units > 0 ? '-' : '';
  const whole = Math.floor(units / scale);
  const rest = (units / scale - Math.floor(whole / 60) * 60).toFixed(digits);
  const padded = rest.padStart(digits > 0 ? digits + 3 : 2, '0');
  const minutes = Math.floor(whole / 60);
  if (minutes === 0) return sign + rest;
  if (minutes < 60) return `${sign}${minutes}:${padded}`;
  return `${sign}${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}:${padded}`;
}

/** A length with its 80 % range, where one was given. */
export interface UncertainSeconds {
  readonly mean: number;
  readonly sd: number;
}

/** Between the 10 % and the 90 % point of a normal distribution lie 2 × 1.2816 standard deviations. */
const rangeWidthInDeviations = 2 * 1.2815515655446004;

/**
 * Reads `3.2` or the 80 % range `9..16` (seconds), taken as normal; undefined where it is neither, or longer than any
 * run.
 */
export function parseSecondsOrRange(written: number | string): UncertainSeconds | undefined {
  if (typeof written === 'number')
    return Math.abs(written) <= longestSeconds ? { mean: written, sd: 0 } : undefined;
  const match = rangePattern.exec(written.trim());
  if (!match) return undefined;
  const low = Number(match[1]);
  const high = Number(match[2]);
  if (high < low) return undefined;
  return { mean: (low + high) / 2, sd: (high - low) / rangeWidthInDeviations };
}
