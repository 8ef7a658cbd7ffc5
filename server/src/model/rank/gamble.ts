/** Practice whose gain rests on a chance: more likely than not to stay below break-even, or with a mean that seldom comes about. */
import type { RankRow } from '../core/results.ts';

/** A gain below this counts as none. */
export const leastGain = 1e-9;

/** Whether the practice of a row is a gamble: a gain is expected, and yet the chance that trying pays then is under one half. */
export function isGamble({
  gain,
  breakEven,
  chanceCompetent,
}: Pick<RankRow, 'gain' | 'breakEven' | 'chanceCompetent'>): boolean {
  return breakEven !== null && gain > leastGain && chanceCompetent < 0.5;
}

/** Of a mean gain that lies above its own 80 % range, since a large gain that comes seldom counts in it. */
export const seldomText = 'mostly less, seldom much more';

/** Whether a mean gain is of that kind. */
export function isSeldom({ gainPerHour, high }: Pick<RankRow, 'gainPerHour' | 'high'>): boolean {
  return gainPerHour > leastGain && gainPerHour > high;
}

/**
 * A gamble in words, with its chance in tenths.
 *
 * @param when from when on it would pay; left out where the sentence names the practice before
 * @example
 * gambleText(0.33) // 'a gamble: about 3 in 10 that it pays by then'
 * gambleText(0.48) // 'a gamble: a little under 5 in 10 that it pays by then'
 * gambleText(0.02) // 'a gamble: less than 1 in 20 that it pays by then'
 * gambleText(0.33, 'after 2.5 h of practice') // 'a gamble: about 3 in 10 that it pays after 2.5 h of practice'
 */
export function gambleText(chance: number, when = 'by then'): string {
  const tenths = Math.round(10 * chance);
  const odds =
    chance < 0.05 ? 'less than 1 in 20' : tenths < 5 ? `about ${tenths} in 10` : 'a little under 5 in 10';
  return `a gamble: ${odds} that it pays ${when}`;
}
