import { expect, test } from 'vitest';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import { comesLike } from '../../../../server/src/model/pool/comesLike.ts';
import { midwayMean } from '../../../../server/src/model/skill/slotPrior.ts';

const later = (mean: number) => ({ midway: { mean, sd: 0.3 } });

test('the difficulty is that whose half-way point is expected where the pool says', () => {
  const like = comesLike(4, later(1.1), defaultConstants);
  expect(like).toBeCloseTo(6, 10);
  const rated = (difficulty: number) => midwayMean({ difficulty }, 0, defaultConstants);
  expect(rated(like) - rated(4)).toBeCloseTo(1.1, 10);
  expect(comesLike(4, later(0), defaultConstants)).toBe(4);
});

test('it stays on the scale, also where a step of difficulty means nothing', () => {
  expect(comesLike(9, later(2), defaultConstants)).toBe(10);
  expect(comesLike(2, later(-2), defaultConstants)).toBe(1);
  expect(comesLike(6, later(2), { midwayPerStep: 0 })).toBe(6);
});
