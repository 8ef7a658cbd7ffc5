import fc from 'fast-check';
import { expect, test } from 'vitest';
import { averageEffect, summarizeUse } from '../../../../server/src/model/run/averageEffect.ts';
import { seeded, use } from '../../../helpers/invented.ts';

test('one try: saves when it lands, loses when it does not', () => {
  const plain = summarizeUse(use('kick', 3.2, 1.4));
  expect(averageEffect(plain, 0.6)).toEqual({
    seconds: 0.6 * 3.2 - 0.4 * 1.4,
    survival: 1,
    lands: 0.6,
    landedSeconds: 0.6 * 3.2,
  });
});

test('several ways to miss: seconds are those of a run that goes on', () => {
  const misses = [
    { chance: 0.7, loses: 2, endsRun: false },
    { chance: 0.3, loses: 0, endsRun: true },
  ];
  const effect = averageEffect(summarizeUse(use('kick', 5, 0, { misses })), 0.5);
  expect(effect.survival).toBeCloseTo(1 - 0.5 * 0.3, 12);
  expect(effect.seconds).toBeCloseTo((0.5 * 5 - 0.5 * 0.7 * 2) / 0.85, 12);
});

test('shares of misses that do not sum to one are scaled; none given costs nothing', () => {
  const misses = [
    { chance: 7, loses: 2, endsRun: false },
    { chance: 3, loses: 0, endsRun: true },
  ];
  expect(summarizeUse(use('kick', 5, 0, { misses }))).toMatchObject({ endShare: 0.3, loses: 2 });
  expect(summarizeUse(use('kick', 5, 0, { misses: [] }))).toMatchObject({ endShare: 0, loses: 0 });
});

test('retries, endings, a backup and an item agree with playing it out', () => {
  const misses = [
    { chance: 0.9, loses: 4, endsRun: false },
    { chance: 0.1, loses: 0, endsRun: true },
  ];
  const plain = summarizeUse(
    use('swing', 9, 0, { misses, retrySeconds: 3, maxTries: 3, take: 'oil', costs: 2 }),
  );
  const backup = averageEffect(summarizeUse(use('hop', 4, 1)), 0.8);
  const exact = averageEffect(plain, 0.45, backup);
  const random = seeded(7);
  const runs = 200000;
  let lives = 0;
  let seconds = 0;
  let lands = 0;
  for (let run = 0; run < runs; run++) {
    let saved = -2;
    let alive = true;
    let landed = false;
    for (let n = 1; n <= 3 && alive && !landed; n++) {
      if (n > 1) saved -= 3;
      landed = random() < 0.45;
      if (!landed && random() < 0.1) alive = false;
    }
    if (landed) saved += 9;
    else if (alive) saved += -4 + (random() < 0.8 ? 4 : -1);
    if (!alive) continue;
    lives++;
    seconds += saved;
    if (landed) lands++;
  }
  // Tolerance: five standard errors of the simulation.
  expect(Math.abs(lives / runs - exact.survival)).toBeLessThan(5 * Math.sqrt(0.25 / runs));
  expect(Math.abs(seconds / lives - exact.seconds)).toBeLessThan((5 * 6) / Math.sqrt(runs));
  expect(Math.abs(lands / runs - exact.lands)).toBeLessThan(5 * Math.sqrt(0.25 / runs));
});

test('landing more often never saves less, and nothing is infinite', () => {
  const value = fc.integer({ min: 0, max: 1_000_000 }).map((n) => 0 + ((50 - 0) * n) / 1_000_000);
  fc.assert(
    fc.property(value, value, value, fc.integer({ min: 0, max: 8 }), (saves, loses, retry, tries) => {
      const plain = summarizeUse(use('kick', saves, loses, { retrySeconds: retry, maxTries: tries }));
      let before = -Infinity;
      for (let rate = 0; rate <= 1; rate += 0.1) {
        const { seconds, survival } = averageEffect(plain, rate);
        expect(Number.isFinite(seconds)).toBe(true);
        expect(survival).toBeCloseTo(1, 9);
        expect(seconds).toBeGreaterThanOrEqual(before - 1e-9);
        before = seconds;
      }
    }),
  );
});

test('numbers that are none are taken as nothing', () => {
  const plain = summarizeUse(use('kick', NaN, NaN, { retrySeconds: NaN, maxTries: NaN, costs: NaN }));
  expect(averageEffect(plain, 0.5)).toEqual({ seconds: 0, survival: 1, lands: 0.5, landedSeconds: 0 });
});
