import type { AttemptCount } from './types.ts';

/**
 * Two counts as one.
 *
 * @example
 * addCounts({ landed: 3, tries: 4 }, { landed: 1, tries: 6 }) // { landed: 4, tries: 10 }
 */
export function addCounts(a: AttemptCount, b: AttemptCount): AttemptCount {
  return { landed: a.landed + b.landed, tries: a.tries + b.tries };
}
