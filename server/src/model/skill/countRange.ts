import type { AttemptCount, Estimate } from '../core/types.ts';

/** Between the 10 % and the 90 % point of a normal distribution lie 2 × 1.2816 standard deviations. */
const deviations = 1.2815515655446004;

/**
 * The range that a count leaves for the rate behind it, from that count alone: no difficulty, no other day, no other
 * technique. Wilson's score interval (Wilson 1927, J. Am. Stat. Assoc. 22: 209–212), which stays between 0 and 1 and
 * is not empty where nothing landed, or everything. That days differ by more than chance is not in it.
 *
 * @param count landed and tries; where nothing was tried, the range is 0 to 1
 * @param z how many standard deviations the range reaches to each side. Default: 80 % of cases lie within
 * @example
 * countRange({ landed: 81, tries: 263 }, 1.959964).low // 0.2553
 */
export function countRange({ landed, tries }: AttemptCount, z = deviations): Pick<Estimate, 'low' | 'high'> {
  if (!(tries > 0)) return { low: 0, high: 1 };
  const rate = landed / tries;
  const middle = landed + (z * z) / 2;
  const half = z * Math.sqrt(tries * rate * (1 - rate) + (z * z) / 4);
  const whole = tries + z * z;
  return { low: Math.max(0, (middle - half) / whole), high: Math.min(1, (middle + half) / whole) };
}
