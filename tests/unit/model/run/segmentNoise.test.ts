import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addNoise, expectOverNoise, gammaNoise } from '../../../../server/src/model/run/segmentNoise.ts';

function massesOf(time: number, spread: number, step: number) {
  const noise = gammaNoise(time, spread, step);
  const masses = new Float64Array(noise.reach + 1);
  masses[0] = 1;
  addNoise(noise, masses);
  return { noise, masses };
}

test('mean and standard deviation are exactly those asked for, on any grid', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 1_000_000 }).map((n) => 5 + ((300 - 5) * n) / 1_000_000),
      fc.integer({ min: 0, max: 1_000_000 }).map((n) => 0.01 + ((20 - 0.01) * n) / 1_000_000),
      fc.constantFrom(0.05, 0.1, 0.5, 2),
      (time, spread, step) => {
        const { noise, masses } = massesOf(time, spread, step);
        let [total, first, second] = [0, 0, 0];
        masses.forEach((mass, i) => {
          total += mass;
          first += mass * i;
          second += mass * i * i;
        });
        expect(total).toBeCloseTo(1, 10);
        expect(noise.origin + first * step).toBeCloseTo(time, 7);
        expect(Math.sqrt(second - first * first) * step).toBeCloseTo(spread, 6);
      },
    ),
    { numRuns: 60 },
  );
});

test('it leans right, and is never faster than two spreads under the mean', () => {
  const { noise, masses } = massesOf(90, 1.5, 0.1);
  expect(noise.origin).toBeGreaterThan(90 - 3 - 0.1);
  const third = masses.reduce((sum, mass, i) => sum + mass * ((noise.origin + i * 0.1 - 90) / 1.5) ** 3, 0);
  // A gamma of shape four has skewness 1; the grid adds a little.
  expect(third).toBeGreaterThan(0.99);
  expect(third).toBeLessThan(1.02);
});

test('a spread of more than half the time leaves the fastest time above zero while it can', () => {
  for (const spread of [50, 60, 89]) {
    expect(massesOf(90, spread, 0.1).noise.origin).toBeGreaterThan(-0.2);
  }
});

test('without spread it is the time itself; numbers that are none count as zero', () => {
  expect(massesOf(90.03, 0, 0.1)).toMatchObject({ noise: { origin: 90.03, stages: 0 } });
  expect(gammaNoise(NaN, NaN, 0.1)).toMatchObject({ mean: 0, stages: 0 });
  expect(gammaNoise(90, -3, 0.1).stages).toBe(0);
  expect(Number.isFinite(gammaNoise(1e300, 1e300, 0.1).reach)).toBe(true);
});

test('backwards is the exact reverse of forwards', () => {
  for (const spread of [0.05, 0.8, 3, 70]) {
    const noise = gammaNoise(90, spread, 0.1);
    const count = 5 * noise.reach;
    const values = Float64Array.from(
      { length: count },
      (_, i) => Math.cos(i / 7) * Math.exp(-i / noise.reach),
    );
    const masses = new Float64Array(count);
    masses[3] = 0.25;
    masses[11] = 0.75;
    const before = Float64Array.from(values);
    expectOverNoise(noise, before);
    addNoise(noise, masses);
    const forward = masses.reduce((sum, mass, i) => sum + mass * values[i]!, 0);
    expect(0.25 * before[3]! + 0.75 * before[11]!).toBeCloseTo(forward, 10);
  }
});
