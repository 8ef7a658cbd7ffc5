import { describe, expect, it } from 'vitest';
import { countRange } from '../../../../server/src/model/skill/countRange.ts';

/** The 97.5 % point of the normal distribution, for ranges of 95 %. */
const z95 = 1.959964;

describe('the range that a count leaves', () => {
  // M: Newcombe 1998, Statistics in Medicine 17: 857–872, table I, method 3 (Wilson's score interval without correction).
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('%i of %i: %f to %f at 95 %%, as published', (landed, tries, low, high) => {
    const range = countRange({ landed, tries }, z95);
    expect(range.low).toBeCloseTo(low, 4);
    expect(range.high).toBeCloseTo(high, 4);
  });

  // By hand: 5 of 10 with z² = 1.6424 is 0.5 ± 1.28155 · √(2.5 + 0.4106) / 11.6424.
  it('is one of 80 % where nothing else is asked for', () => {
    const { low, high } = countRange({ landed: 5, tries: 10 });
    expect(low).toBeCloseTo(0.3122, 4);
    expect(high).toBeCloseTo(0.6878, 4);
  });

  // From memory: Wilson's interval holds the rate, is turned round with landed and missed, and narrows with tries.
  it('holds the rate, is the same for missed turned round, and narrows as tries grow', () => {
    for (const tries of [1, 3, 12, 29]) {
      for (let landed = 0; landed <= tries; landed++) {
        const { low, high } = countRange({ landed, tries });
        const missed = countRange({ landed: tries - landed, tries });
        expect(low).toBeLessThanOrEqual(landed / tries);
        expect(high).toBeGreaterThanOrEqual(landed / tries);
        expect(missed.low).toBeCloseTo(1 - high, 12);
        const twice = countRange({ landed: 2 * landed, tries: 2 * tries });
        expect(twice.high - twice.low).toBeLessThan(high - low);
      }
    }
  });

  it('is everything where nothing was tried', () => {
    expect(countRange({ landed: 0, tries: 0 })).toEqual({ low: 0, high: 1 });
  });
});
