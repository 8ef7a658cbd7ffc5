import { expect, test } from 'vitest';
import { defaultConstants as usual } from '../../../../server/src/model/core/constants.ts';
import { estimatePace, readHistory } from '../../../../server/src/model/skill/practiceHistory.ts';
import { dose, forget, practiceLevel } from '../../../../server/src/model/skill/practiceState.ts';
import { block, runTries, technique } from '../../../helpers/invented.ts';

const kick = technique('kick');

test('the pace is the median of what was counted', () => {
  const entries = [10, 20, 60].map((attempts) => block('kick', 0, 0, attempts, { minutes: 5 }));
  expect(estimatePace(entries, kick)).toBe(4);
});

test('with nothing counted the pace follows the cycle: 12 a minute at 5 s, under two at over 30 s', () => {
  // P, common practice of the trade: a quick repeat of 5 s gives 12 attempts a minute, a slow one of 30 s at most 2.
  expect(estimatePace([], kick)).toBe(12);
  expect(estimatePace([], technique('far', { attemptSeconds: 4, reloadSeconds: 27 }))).toBeLessThan(2);
  expect(estimatePace([], technique('none', { attemptSeconds: 0, reloadSeconds: 0 }))).toBe(120);
});

test('a block is read at the state before it plus half its own dose', () => {
  const { days, state } = readHistory(kick, [block('kick', 3, 30, 60, { minutes: 5 })], [], usual);
  const added = dose(60, 5, 0, usual);
  expect(days).toEqual([
    {
      day: 3,
      inRun: false,
      landed: 30,
      tries: 60,
      readings: [{ level: practiceLevel(added / 2, usual), tries: 60 }],
    },
  ]);
  expect(state.effective).toBeCloseTo(added, 12);
});

test('attempts not counted are guessed for the dose and stay out of the counts', () => {
  const { days, state } = readHistory(
    kick,
    [{ technique: 'kick', day: 0, order: 0, minutes: 10 }],
    [],
    usual,
  );
  expect(days).toEqual([]);
  expect(state.effective).toBeCloseTo(dose(120, 10, 0, usual), 9);
});

test('a counted sample of a longer block counts as a sample, the whole block as the dose', () => {
  const sample = { technique: 'kick', day: 0, order: 0, minutes: 10, counted: { landed: 5, tries: 20 } };
  const { days, state } = readHistory(kick, [sample], [], usual);
  expect(days[0]).toMatchObject({ landed: 5, tries: 20 });
  expect(state.effective).toBeCloseTo(dose(120, 10, 0, usual), 9);
});

test('counts of one day and kind are taken together, practice and runs apart', () => {
  const entries = [
    block('kick', 0, 10, 20, { order: 0, minutes: 2 }),
    block('kick', 0, 15, 20, { order: 1, minutes: 2 }),
  ];
  const { days } = readHistory(kick, entries, [runTries('kick', 0, 1, 2), runTries('kick', 0, 2, 2)], usual);
  expect(days.map((d) => [d.inRun, d.landed, d.tries])).toEqual([
    [false, 25, 40],
    [true, 3, 4],
  ]);
  const tries = days[0]!.readings.reduce((sum, r) => sum + r.tries, 0);
  expect(tries).toBe(40);
});

test('order of day and of entry counts, not the order in the list', () => {
  const a = block('kick', 5, 10, 50, { order: 2, minutes: 5 });
  const b = block('kick', 1, 3, 30, { order: 1, minutes: 5 });
  const c = block('kick', 5, 9, 20, { order: 3, minutes: 5 });
  expect(readHistory(kick, [c, a, b], [], usual)).toEqual(readHistory(kick, [b, a, c], [], usual));
});

test('idle days between entries are forgotten, and a run attempt counts as use', () => {
  const first = block('kick', 0, 10, 60, { minutes: 5 });
  const { state } = readHistory(kick, [first], [runTries('kick', 101, 1, 1)], usual);
  const rested = dose(60, 5, 0, usual) * 1.2;
  expect(state.effective).toBeCloseTo(forget(rested, 100, usual) + 1, 9);
});

test('bad numbers stay finite', () => {
  const odd = [
    block('kick', NaN, 1, 2),
    block('kick', 1, 9, 5, { minutes: -3 }),
    block('kick', 2, -4, 10, { minutes: Infinity, attempts: NaN }),
    block('kick', 3, 5000, 10000, { minutes: 0 }),
  ];
  const { days, state, pace } = readHistory(kick, odd, [], usual);
  expect(Number.isFinite(state.effective)).toBe(true);
  expect(Number.isFinite(pace)).toBe(true);
  for (const day of days) {
    expect(day.landed).toBeLessThanOrEqual(day.tries);
    expect(day.landed).toBeGreaterThanOrEqual(0);
  }
});
