/** The sum of what runners and pools say of each technique, where they may have rated it differently. */
import { compareCodeUnits } from '../core/numbers.ts';
import { combine } from './addUp.ts';
import type { PooledTechnique } from './pooledTechnique.ts';

/** What is not in a sum, because a technique was rated otherwise when it was counted. */
export interface OtherRating {
  readonly technique: string;
  /** How many runners it is from. */
  readonly runners: number;
  /** The rating there, and that of the sum. */
  readonly difficulty: number;
  readonly summed: number;
}

/** A sum of parts. */
export interface SumOfParts {
  readonly techniques: ReadonlyMap<string, PooledTechnique>;
  /** By technique, the most runners first. */
  readonly otherRatings: readonly OtherRating[];
}

/**
 * Adds up what each part says of each technique. Of a technique that was rated differently, the rating behind which most runners
 * stand counts; of equal ones that of now, then the lower one. The answer is the same in any order of the parts.
 *
 * What was counted at another rating is left out and not moved over. Its places are counted from that rating, so they would have to
 * be moved by 2.2 places for each step of difficulty, which is no whole number. And each number compares a place with
 * having nothing in common, at that rating: what this comes to at another rating is known of each runner, but not of a
 * sum of several.
 *
 * @param ratedNow a technique's rating of now, by id
 */
export function addByRating(
  parts: readonly ReadonlyMap<string, PooledTechnique>[],
  ratedNow: (technique: string) => number | undefined,
): SumOfParts {
  const sums = new Map<string, Map<number, PooledTechnique>>();
  for (const part of parts) {
    for (const [id, more] of part) {
      const byRating = sums.get(id) ?? new Map<number, PooledTechnique>();
      sums.set(id, byRating);
      const known = byRating.get(more.difficulty);
      byRating.set(more.difficulty, known === undefined ? more : combine(known, more));
    }
  }
  const techniques = new Map<string, PooledTechnique>();
  const otherRatings: OtherRating[] = [];
  for (const [technique, byRating] of [...sums].sort(([a], [b]) => compareCodeUnits(a, b))) {
    const now = ratedNow(technique);
    const [first, ...others] = [...byRating.values()].sort(
      (a, b) =>
        b.runners - a.runners ||
        Number(b.difficulty === now) - Number(a.difficulty === now) ||
        a.difficulty - b.difficulty,
    );
    techniques.set(technique, first!);
    for (const { runners, difficulty } of others)
      otherRatings.push({ technique, runners, difficulty, summed: first!.difficulty });
  }
  return { techniques, otherRatings };
}
