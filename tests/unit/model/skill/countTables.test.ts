import fc from 'fast-check';
import { expect, test } from 'vitest';
import { clamp, logistic } from '../../../../server/src/model/core/numbers.ts';
import { concentrationAt, logBetaBinomial } from '../../../../server/src/model/skill/countLikelihood.ts';
import { CountTables } from '../../../../server/src/model/skill/countTables.ts';

const constants = { concentration: 40, rateFloor: 1e-4 };
const tables = new CountTables(constants);

test('each point of a table is the likelihood of its count, whatever was asked before', () => {
  const counts = fc
    .nat({ max: 3_000 })
    .chain((tries) => fc.tuple(fc.nat({ max: tries }), fc.constant(tries)));
  fc.assert(
    fc.property(counts, fc.double({ min: 0, max: 1, noNaN: true }), ([landed, tries], share) => {
      const { from, step, values } = tables.of(landed, tries);
      const i = Math.round(share * (values.length - 1));
      const mean = clamp(logistic(from + i * step), constants.rateFloor, 1 - constants.rateFloor);
      const exact = logBetaBinomial(landed, tries, mean, concentrationAt(mean, constants.concentration));
      // Rounding alone; the other way to work it out, by the log beta function, loses as much on long counts.
      expect(Math.abs(values[i]! - exact)).toBeLessThan(1e-8 + 1e-10 * Math.abs(exact));
    }),
  );
});

test('the same count gives the same table', () => {
  expect(tables.of(3, 7)).toBe(tables.of(3, 7));
  expect(tables.of(3, 8)).not.toBe(tables.of(3, 7));
});

test('nothing counted says nothing, and a hundred thousand attempts in a day are finite', () => {
  expect(tables.of(0, 0).values.every((value) => value === 0)).toBe(true);
  expect(tables.of(40_000, 100_000).values.every(Number.isFinite)).toBe(true);
});

test('a table is the same to the last digit whatever was asked before', () => {
  const others = new CountTables(constants);
  for (const [landed, tries] of [
    [2_500, 3_000],
    [7, 9],
    [1_000, 1_001],
  ] as const)
    others.of(landed, tries);
  for (const [landed, tries] of [
    [8, 11],
    [1_500, 2_600],
  ] as const)
    expect(others.of(landed, tries).values).toEqual(new CountTables(constants).of(landed, tries).values);
});
