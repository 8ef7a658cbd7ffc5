import fc from 'fast-check';
import { expect, test } from 'vitest';
import { chanceUnder, massAndMean, quantileOf } from '../../../../server/src/model/run/timeStatistics.ts';
import {
  neverReset,
  playUnderLine,
  beatenPerSecond,
  resetLine,
  resetWhenBehind,
} from '../../../../server/src/model/run/resetLine.ts';
import { seeded, segment, use } from '../../../helpers/invented.ts';
import { playRun } from '../../../helpers/playedRuns.ts';
import { anyRoute, ends, playAll } from '../../../helpers/runPlans.ts';

const still = { spread: 0 };

test('by hand: give up after a slow first segment', () => {
  // First 10 or 20 s, then 100 s; the target wants the fast one. Restart 14.
  const segments = [
    segment('a', 10, [], { ...still, luck: [{ chance: 0.5, adds: 10 }] }),
    segment('b', 100, [], still),
  ];
  const { plan } = playAll(segments);
  const { times, perHour } = resetLine(plan, 115);
  // Never: .5 a run of 14 + 15 + 100 s. With the line: .5 a run of 14 + 15 + .5 · 100.
  expect(perHour.never).toBeCloseTo((3600 * 0.5) / 129, 9);
  expect(perHour.line).toBeCloseTo((3600 * 0.5) / 79, 9);
  expect(times[0]!).toBeGreaterThan(10);
  expect(times[0]!).toBeLessThan(20);
  expect(times[1]).toBeNull();
});

test('a target below all mass or above it: never reset', () => {
  const segments = [segment('a', 60, [], { spread: 1 }), segment('b', 60, [], { spread: 1 })];
  const { plan } = playAll(segments);
  expect(resetLine(plan, 50)).toMatchObject({ times: [null, null], perHour: { line: 0, never: 0 } });
  const sure = resetLine(plan, 1000);
  expect(sure.times).toEqual([null, null]);
  expect(sure.perHour.line).toBeCloseTo(3600 / 134, 6);
  expect(sure.perHour.line).toBe(sure.perHour.never);
});

test('no segments at all, no time at all', () => {
  expect(resetLine(playAll([]).plan, 10).times).toEqual([]);
  const { plan } = playAll([segment('a', 0, [], still), segment('b', 0, [], still)]);
  expect(Number.isFinite(resetLine({ ...plan, restart: 0 }, 1).perHour.line)).toBe(true);
});

/** One way through a tiny route: what each segment took (null: the run ended there), and how likely. */
interface Path {
  readonly chance: number;
  readonly takes: readonly (number | null)[];
}

/** Beaten targets a second under thresholds in seconds, by adding up every path. */
function rateByPaths(
  paths: readonly Path[],
  usual: readonly number[],
  limits: readonly number[],
  target: number,
) {
  let success = 0;
  let clock = 14;
  for (const { chance, takes } of paths) {
    let time = 0;
    let beaten = true;
    for (const [s, take] of takes.entries()) {
      clock += chance * (take ?? usual[s]! / 2);
      if (take === null) {
        beaten = false;
        break;
      }
      time += take;
      if (s < takes.length - 1 && time > limits[s]!) {
        beaten = false;
        break;
      }
    }
    if (beaten && time < target - 1e-9) success += chance;
  }
  return success / clock;
}

test('tiny routes: no line found by trying them all is better', () => {
  const random = seeded(99);
  const pick = (low: number, high: number): number => low + Math.floor((high - low + 1) * random());
  for (let round = 0; round < 25; round++) {
    // Four segments; the time of each is one of two, and it may end the run.
    const parts = Array.from({ length: 4 }, () => ({
      time: pick(3, 9),
      chance: random(),
      adds: pick(1, 5),
      survive: 0.6 + 0.4 * random(),
    }));
    const segments = parts.map(({ time, chance, adds, survive }, s) =>
      segment(`s${s}`, time, [], { ...still, survive, luck: [{ chance, adds }] }),
    );
    const usual = parts.map(({ time, chance, adds }) => time + chance * adds);
    let paths: Path[] = [{ chance: 1, takes: [] }];
    for (const { time, chance, adds, survive } of parts) {
      paths = paths.flatMap((path) =>
        path.takes.at(-1) === null
          ? [path]
          : [
              { chance: path.chance * (1 - survive), takes: [...path.takes, null] },
              { chance: path.chance * survive * (1 - chance), takes: [...path.takes, time] },
              { chance: path.chance * survive * chance, takes: [...path.takes, time + adds] },
            ],
      );
    }
    const least = parts.reduce((sum, { time }) => sum + time, 0);
    const target = least + pick(1, 10) + 0.5;
    const sums = [0, 1, 2].map((s) => {
      const at = new Set(
        paths.flatMap(({ takes }) =>
          takes.length > s && takes.slice(0, s + 1).every((t) => t !== null)
            ? [takes.slice(0, s + 1).reduce<number>((sum, t) => sum + (t ?? 0), 0)]
            : [],
        ),
      );
      return [0, ...at];
    });
    let best = 0;
    for (const a of sums[0]!)
      for (const b of sums[1]!)
        for (const c of sums[2]!) best = Math.max(best, rateByPaths(paths, usual, [a, b, c], target));
    const found = resetLine(playAll(segments, {}, 1).plan, target);
    // A run that ends in a segment costs half its usual time, and so it does in the paths.
    expect(found.perHour.line / 3600 / best).toBeCloseTo(1, 6);
    const limits = found.times.map((time) => time ?? Infinity);
    expect(rateByPaths(paths, usual, limits, target) / best).toBeCloseTo(1, 6);
  }
});

test('never worse than never resetting, or than resetting when behind, on any route', () => {
  fc.assert(
    fc.property(
      anyRoute,
      fc.integer({ min: 0, max: 1_000_000 }).map((n) => 0.02 + ((0.98 - 0.02) * n) / 1_000_000),
      ({ segments, rates }, level) => {
        const { plan, times } = playAll(segments, rates, 0.2);
        const target = quantileOf(times, level);
        const found = resetLine(plan, target);
        const open = playUnderLine(plan, neverReset(plan), target);
        const behind = playUnderLine(plan, resetWhenBehind(plan, open.stages, target), target);
        expect(found.perHour.line).toBeGreaterThanOrEqual(found.perHour.never * (1 - 1e-9));
        expect(found.perHour.line).toBeGreaterThanOrEqual(3600 * beatenPerSecond(behind) * (1 - 1e-8));
        // What is printed is what it was judged by.
        expect(3600 * beatenPerSecond(playUnderLine(plan, found.line, target))).toBeCloseTo(
          found.perHour.line,
          9,
        );
        expect(Number.isFinite(found.perHour.line)).toBe(true);
      },
    ),
    { numRuns: 120, seed: 5 },
  );
});

test('no small move of any time of the line makes it better', () => {
  const segments = Array.from({ length: 6 }, (_, s) =>
    segment(`s${s}`, 60, [use(`t${s}`, 3, 2, s === 4 ? ends : {})], { spread: 1.5, survive: 0.97 }),
  );
  const rates = Object.fromEntries(segments.map((_, s) => [`t${s}`, 0.6]));
  const { plan, times } = playAll(segments, rates);
  const target = quantileOf(times, 0.1);
  const { line, perHour, times: at } = resetLine(plan, target);
  expect(perHour.line).toBeGreaterThan(1.2 * perHour.never);
  at.slice(0, -1).forEach((time) => {
    expect(time).not.toBeNull();
  });
  for (let s = 0; s < 5; s++) {
    for (const move of [-8, -2, -1, 1, 2, 8]) {
      const moved = line.map((last, i) => (i === s ? last + move : last));
      expect(3600 * beatenPerSecond(playUnderLine(plan, moved, target))).toBeLessThanOrEqual(
        perHour.line * (1 + 1e-9),
      );
    }
  }
});

test('the line played out run by run beats the target as often as it says', () => {
  const segments = Array.from({ length: 4 }, (_, s) =>
    segment(`s${s}`, 40, [use(`t${s}`, 4, 2)], { spread: 1.2, survive: 0.95 }),
  );
  const {
    model,
    layout,
    played,
    rateOf: rates,
    plan,
    times,
  } = playAll(segments, { t0: 0.5, t1: 0.6, t2: 0.4, t3: 0.7 });
  const target = quantileOf(times, 0.15);
  const { times: limits, perHour } = resetLine(plan, target);
  const random = seeded(4);
  let [beaten, clock] = [0, 0];
  const count = 150_000;
  for (let n = 0; n < count; n++) {
    const run = playRun(model, layout, played, rates, random);
    let time = 0;
    clock += plan.restart;
    let reset = false;
    for (const [s, took] of run.times.entries()) {
      time += took;
      clock += took;
      reset = s < segments.length - 1 && time > (limits[s] ?? Infinity);
      if (reset) break;
    }
    if (reset) continue;
    if (run.final === null) clock += plan.segments[run.times.length]!.noise.mean / 2;
    else if (time < target) beaten++;
  }
  // Four standard errors of a count, and half a percent for what a death costs, which is rounded to the usual time.
  const error = 4 / Math.sqrt(beaten) + 0.005;
  expect(Math.abs((3600 * beaten) / clock / perHour.line - 1)).toBeLessThan(error);
});

test('an item in hand unseen by the line: still the best of all single lines', () => {
  const segments = [
    segment('a', 10, [use('oil', 0, 0, { take: 'oil', costs: 2 })], {
      ...still,
      luck: [{ chance: 0.5, adds: 3 }],
    }),
    segment('b', 20, [], { ...still, luck: [{ chance: 0.3, adds: 4 }] }),
    segment('c', 30, [use('burn', 9, 1, { with: 'oil' })], still),
  ];
  const { plan, times } = playAll(segments, { oil: 0.4, burn: 0.8 }, 1);
  const target = 55.5;
  expect(chanceUnder(times, target)).toBeGreaterThan(0.1);
  const found = resetLine(plan, target);
  let best = 0;
  for (let a = -1; a < 8; a++)
    for (let b = -1; b < 12; b++)
      best = Math.max(best, beatenPerSecond(playUnderLine(plan, [a, b, Infinity], target)));
  expect(found.perHour.line / 3600 / best).toBeCloseTo(1, 9);
});

test('a run-ending technique in every segment, forty of them, and a survival of a millionth', () => {
  const segments = Array.from({ length: 40 }, (_, s) =>
    segment(`s${s}`, 60, [use('leap', 2, 0, ends)], { spread: 1 }),
  );
  const { plan, times } = playAll(segments, { leap: 0.9 });
  const { mass } = massAndMean(times);
  expect(mass).toBeCloseTo(0.9 ** 40, 9);
  const line = resetLine(plan, quantileOf(times, 0.3));
  expect(line.perHour.line).toBeGreaterThanOrEqual(line.perHour.never);
  const deadly = playAll([segment('a', 60, [], { survive: 1e-6, spread: 1 }), segment('b', 60, [])]);
  const found = resetLine(deadly.plan, 121);
  expect(found.perHour.line).toBeGreaterThan(0);
  expect(Number.isFinite(found.perHour.line)).toBe(true);
});
