import fc from 'fast-check';
import { expect, test } from 'vitest';
import { defaultConstants as usual, resolveConstants } from '../../../../server/src/model/core/constants.ts';
import {
  dose,
  forget,
  practiceLevel,
  stateOnMorning,
  applyPractice,
  unpractised,
} from '../../../../server/src/model/skill/practiceState.ts';
import type { PracticeState } from '../../../../server/src/model/skill/practiceState.ts';

const noSleep = resolveConstants({ overnightGain: 0 });

function blocks(
  list: readonly (readonly [day: number, minutes: number])[],
  constants = usual,
): PracticeState {
  return list.reduce(
    (state, [day, minutes]) => applyPractice(state, day, minutes * 12, minutes, constants).state,
    unpractised,
  );
}

test('a dose is the integral of a fading minute', () => {
  // Twenty minutes of twelve attempts after half an hour, added up second by second.
  let sum = 0;
  for (let s = 0.5; s < 1200; s++) sum += (12 / 60) * Math.exp(-(30 + s / 60) / usual.daySaturation);
  expect(dose(240, 20, 30, usual)).toBeCloseTo(sum, 4);
});

test('a block cut in two gives the same dose', () => {
  const whole = dose(300, 25, 0, usual);
  expect(dose(120, 10, 0, usual) + dose(180, 15, 10, usual)).toBeCloseTo(whole, 9);
});

test('an attempt without minutes counts e^(-minutes before / saturation)', () => {
  expect(dose(1, 0, 0, usual)).toBe(1);
  expect(dose(3, 0, 60, usual)).toBeCloseTo(3 * Math.exp(-60 / 207), 12);
  expect(dose(5, 1e-15, 0, usual)).toBeCloseTo(5, 9);
});

test('a night adds its share once, then idle days take their toll', () => {
  const after = blocks([[10, 20]]);
  expect(stateOnMorning(after, 10, usual)).toBe(after);
  const morning = stateOnMorning(after, 11, usual);
  expect(morning.effective).toBeCloseTo(after.effective * 1.2, 9);
  expect(stateOnMorning(morning, 11, usual).effective).toBe(morning.effective);
  expect(stateOnMorning(after, 12, usual).effective).toBeCloseTo(forget(morning.effective, 1, usual), 9);
  expect(stateOnMorning(morning, 40, usual).effective).toBeCloseTo(
    stateOnMorning(after, 40, usual).effective,
    9,
  );
});

test('forgetting in two steps is forgetting in one', () => {
  expect(forget(forget(500, 30, usual), 70, usual)).toBeCloseTo(forget(500, 100, usual), 8);
  expect(forget(500, 0, usual)).toBe(500);
  expect(forget(500, -3, usual)).toBe(500);
});

test('two hours in one day count less than an hour on each of two days, with and without overnight gain', () => {
  for (const constants of [usual, noSleep]) {
    const once = stateOnMorning(blocks([[1, 120]], constants), 2, constants).effective;
    // Read on the same morning, so that the second day's hour is the later one.
    const spread = stateOnMorning(blocks([[0, 60], [1, 60]], constants), 2, constants).effective; // prettier-ignore
    expect(once).toBeLessThan(spread);
  }
});

test('the same three hours over six days beat one sitting, with and without overnight gain', () => {
  for (const constants of [usual, noSleep]) {
    const sitting = stateOnMorning(blocks([[5, 180]], constants), 6, constants).effective;
    const days = [0, 1, 2, 3, 4, 5].map((day) => [day, 30] as const);
    expect(sitting).toBeLessThan(stateOnMorning(blocks(days, constants), 6, constants).effective);
  }
});

test('one more block never counts less', () => {
  const entry = fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 90 }));
  fc.assert(
    fc.property(fc.array(entry, { maxLength: 12 }), entry, fc.boolean(), (list, extra, sleeps) => {
      const constants = sleeps ? usual : noSleep;
      const inOrder = (l: (readonly [number, number])[]) => [...l].sort((a, b) => a[0] - b[0]);
      const without = stateOnMorning(blocks(inOrder(list), constants), 41, constants).effective;
      const withIt = stateOnMorning(blocks(inOrder([...list, extra]), constants), 41, constants).effective;
      expect(withIt).toBeGreaterThanOrEqual(without - 1e-9);
    }),
  );
});

test('the level is ln(1 + E/unit)', () => {
  expect(practiceLevel(0, usual)).toBe(0);
  expect(practiceLevel(10, usual)).toBeCloseTo(Math.log(2), 12);
  expect(practiceLevel(-5, usual)).toBe(0);
});
