import { expect, test } from 'vitest';
import { addByRating } from '../../../../server/src/model/pool/addByRating.ts';
import { combine } from '../../../../server/src/model/pool/addUp.ts';
import type { PooledTechnique } from '../../../../server/src/model/pool/pooledTechnique.ts';
import { numbers, pooled } from '../../../helpers/pooledNumbers.ts';

/** So many runners, at a rating, with a number that says whose it is. */
function said(runners: number, difficulty: number, value: number): PooledTechnique {
  return pooled(
    numbers(() => Array.from({ length: 25 }, () => value)),
    runners,
    difficulty,
  );
}

const part = (technique: PooledTechnique) => new Map([['kick', technique]]);

test('what is rated alike is added up', () => {
  const [a, b, c] = [said(3, 4, 5), said(1, 4, -2), said(4, 4, 7)];
  const { techniques, otherRatings } = addByRating([a, b, c].map(part), () => 4);
  expect(techniques.get('kick')).toEqual(combine(combine(a, b), c));
  expect(otherRatings).toEqual([]);
});

test('of two ratings the one with most runners counts, and the other is named', () => {
  const [a, b, c] = [said(3, 4, 5), said(2, 6, -2), said(2, 6, 7)];
  for (const parts of [
    [a, b, c],
    [c, a, b],
  ]) {
    const { techniques, otherRatings } = addByRating(parts.map(part), () => 4);
    expect(techniques.get('kick')).toEqual(combine(b, c));
    expect(otherRatings).toEqual([{ technique: 'kick', runners: 3, difficulty: 4, summed: 6 }]);
  }
});

test('of ratings with as many runners the one of now counts, then the lower one', () => {
  const parts = [said(3, 6, 1), said(3, 5, 2), said(3, 7, 3)].map(part);
  expect(addByRating(parts, () => 7).techniques.get('kick')!.difficulty).toBe(7);
  const { techniques, otherRatings } = addByRating(parts, () => undefined);
  expect(techniques.get('kick')!.difficulty).toBe(5);
  expect(otherRatings.map(({ difficulty }) => difficulty)).toEqual([6, 7]);
});
