/** What a pool says of a technique's difficulty, on the scale of the ratings. */
import type { Constants } from '../core/constants.ts';
import type { OthersWord } from '../core/rated.ts';
import { clamp } from '../core/numbers.ts';

/**
 * The difficulty that a technique comes like to those who practised it: the rating, and what they found beyond it in steps of the
 * scale.
 *
 * @param difficulty the rating that the word belongs to, 1 to 10
 * @returns 1 to 10
 */
export function comesLike(
  difficulty: number,
  { midway }: Pick<OthersWord, 'midway'>,
  { midwayPerStep }: Pick<Constants, 'midwayPerStep'>,
): number {
  return clamp(midwayPerStep > 0 ? difficulty + midway.mean / midwayPerStep : difficulty, 1, 10);
}
