import fc from 'fast-check';
import { expect, test } from 'vitest';
import { chooseBaseline } from '../../../../server/src/model/run/baseline.ts';
import { defaultConstants as usual, resolveConstants } from '../../../../server/src/model/core/constants.ts';
import { layOutRoute } from '../../../../server/src/model/run/routeLayout.ts';
import { logit } from '../../../../server/src/model/core/numbers.ts';
import { RunState } from '../../../../server/src/model/run/runState.ts';
import { interpolateTable } from '../../../../server/src/model/core/rateTable.ts';
import type { SegmentModel } from '../../../../server/src/model/core/types.ts';
import { valueTechnique } from '../../../../server/src/model/run/techniqueWorth.ts';
import { route, seeded, segment, technique, use } from '../../../helpers/invented.ts';

/** Values `of` with the given techniques in the run at the given rates. */
function value(segments: SegmentModel[], of: string, inRun: Record<string, number> = {}, constants = usual) {
  const layout = layOutRoute(route(segments, [technique(of)]));
  const allowed = (t: string): boolean => t !== of && t in inRun;
  const rateOf = (t: string): number => inRun[t] ?? 0;
  const base = chooseBaseline(layout, allowed, rateOf, constants);
  return { layout, base, worth: valueTechnique(layout, of, base, allowed, rateOf, constants) };
}

const savedAt = (worth: ReturnType<typeof value>['worth'], rate: number): number =>
  interpolateTable(worth.saved, logit(rate));

test('T, C and V of a route agree with playing out many runs', () => {
  const segments = [
    segment('a', 100, [], { survive: 0.9, luck: [{ chance: 0.4, adds: 9 }] }),
    segment('b', 60, [], { survive: 0.7 }),
    segment('c', 80, []),
  ];
  const state = new RunState(layOutRoute(route(segments, [])));
  const { finalTime, clockPerFinish, worth, finishChance } = state.worth(usual);
  expect(finalTime).toBeCloseTo(103.6 + 60 + 80, 9);
  expect(finishChance).toBeCloseTo(0.63, 12);
  expect(worth).toBeCloseTo(finalTime + 0.01 * (clockPerFinish - finalTime), 9);
  const random = seeded(3);
  let clock = 0;
  let finished = 0;
  for (let run = 0; run < 200000; run++) {
    clock += 14;
    let alive = true;
    for (const [time, lives] of [
      [103.6, 0.9],
      [60, 0.7],
      [80, 1],
    ] as const) {
      // prettier-ignore
      alive = random() < lives;
      clock += alive ? time : time / 2;
      if (!alive) break;
    }
    if (alive) finished++;
  }
  // Tolerance: five standard errors; one run takes about 120 s more or less.
  expect(Math.abs(clock / finished - clockPerFinish)).toBeLessThan(3);
});

test('break-even is loses / (saves + loses) in the simple case', () => {
  const seconds = fc.integer({ min: 0, max: 1_000_000 }).map((n) => 0.1 + ((30 - 0.1) * n) / 1_000_000);
  fc.assert(
    fc.property(
      seconds,
      seconds,
      fc.integer({ min: 0, max: 1_000_000 }).map((n) => 0.5 + ((1 - 0.5) * n) / 1_000_000),
      (saves, loses, survive) => {
        const segments = [segment('a', 90, [use('kick', saves, loses)], { survive }), segment('b', 40, [])];
        const { worth } = value(segments, 'kick');
        expect(worth.breakEven).toBeCloseTo(loses / (saves + loses), 6);
      },
    ),
    { numRuns: 40 },
  );
});

test('what is saved is rate × saves − (1 − rate) × loses above break-even, nothing below', () => {
  const { worth } = value([segment('a', 90, [use('kick', 4, 1)])], 'kick');
  expect(savedAt(worth, 0.8)).toBeCloseTo(0.8 * 4 - 0.2 * 1, 3);
  expect(savedAt(worth, 0.15)).toBe(0);
  // Linear interpolation over the bend at break-even costs a little there.
  expect(savedAt(worth, 0.2)).toBeLessThan(0.05);
});

test('zero loses: break-even 0; zero saves or less: it never pays', () => {
  expect(value([segment('a', 90, [use('kick', 4, 0)])], 'kick').worth.breakEven).toBe(0);
  expect(value([segment('a', 90, [use('kick', 0, 2)])], 'kick').worth.breakEven).toBeNull();
  expect(value([segment('a', 90, [use('kick', -3, 2)])], 'kick').worth.breakEven).toBeNull();
});

test('a miss that ends the run: break-even is where V with and without are equal', () => {
  const ends = use('leap', 20, 0, { misses: [{ chance: 1, loses: 0, endsRun: true }] });
  const segments = [
    segment('a', 300, [], { survive: 0.8 }),
    segment('b', 200, [ends]),
    segment('c', 100, []),
  ];
  const { worth } = value(segments, 'leap');
  // By hand: at rate r, T = 580, Q = 0.8 r, C = (300·0.9 + 0.8·180·(1 + r)/2 + 0.8·r·100 + 14) / (0.8 r).
  const v = (r: number): number => {
    const c = (270 + 0.8 * 180 * ((1 + r) / 2) + 0.8 * r * 100 + 14) / (0.8 * r);
    return 580 + 0.01 * (c - 580);
  };
  const without = 600 + 0.01 * ((270 + 0.8 * 200 + 0.8 * 100 + 14) / 0.8 - 600);
  expect(v(worth.breakEven!)).toBeCloseTo(without, 6);
  expect(savedAt(worth, 0.9)).toBeCloseTo(without - v(0.9), 3);
  // Resets weigh more at a higher weight of the clock, so more is asked of the technique.
  const dearer = value(segments, 'leap', {}, resolveConstants({ clockWeight: 0.05 })).worth;
  expect(dearer.breakEven!).toBeGreaterThan(worth.breakEven!);
});

test('an earlier ending weighs less than a later one', () => {
  const ends = (id: string) => use(id, 20, 0, { misses: [{ chance: 1, loses: 0, endsRun: true }] });
  const early = [segment('a', 100, [ends('leap')]), segment('b', 500, [])];
  const late = [segment('a', 500, []), segment('b', 100, [ends('leap')])];
  expect(value(early, 'leap').worth.breakEven!).toBeLessThan(value(late, 'leap').worth.breakEven!);
});

test('two uses of one technique add up, each only where it pays', () => {
  const segments = [
    segment('a', 90, [use('kick', 4, 1, { id: 'kick@one' })]),
    segment('b', 90, [use('kick', 2, 6, { id: 'kick@two' })]),
  ];
  const { worth } = value(segments, 'kick');
  expect(worth.breakEven).toBeCloseTo(0.2, 6);
  expect(savedAt(worth, 0.5)).toBeCloseTo(0.5 * 4 - 0.5 * 1, 3);
  expect(savedAt(worth, 0.9)).toBeCloseTo(0.9 * 4 - 0.1 + 0.9 * 2 - 0.1 * 6, 2);
});

test('in a spot a technique is held against what is used there now', () => {
  const segments = [
    segment('a', 90, [use('clip', 9, 3, { spot: 'gate' }), use('hop', 4, 1, { spot: 'gate' })]),
  ];
  const { worth } = value(segments, 'clip', { hop: 0.9 });
  const hop = 0.9 * 4 - 0.1;
  expect(worth.breakEven).toBeCloseTo((hop + 3) / 12, 6);
  expect(savedAt(worth, 0.8)).toBeCloseTo(0.8 * 9 - 0.2 * 3 - hop, 2);
  expect(worth.sharesSpotWith).toEqual(['hop']);
  expect(value(segments, 'clip').worth.breakEven).toBeCloseTo(3 / 12, 6);
});

test('a backup after a miss lowers the break-even, and is worth something itself', () => {
  const withBackup = [
    segment('a', 90, [
      use('clip', 9, 3, { spot: 'gate', backup: 'hop' }),
      use('hop', 4, 1, { spot: 'gate' }),
    ]),
  ];
  const clip = value(withBackup, 'clip', { hop: 0.9 }).worth;
  // clip with the backup: r·9 + (1 − r)(−3 + 3.5) against 3.5 from hop alone.
  expect(clip.breakEven).toBeCloseTo(3 / 8.5, 6);
  const hop = value(withBackup, 'hop', { clip: 0.7 }).worth;
  expect(hop.breakEven).toBeCloseTo(0.2, 6);
  expect(savedAt(hop, 0.9)).toBeCloseTo(0.3 * 3.5, 2);
});

test('what picking up an item costs is spent once, also where a backup follows the miss', () => {
  const segments = [
    segment('a', 90, [
      use('oil', 9, 3, { take: 'oil', costs: 2, spot: 'gate', backup: 'hop' }),
      use('hop', 4, 1, { spot: 'gate' }),
    ]),
  ];
  const { worth } = value(segments, 'oil', { hop: 0.9 });
  // With certain landing 9 − 2 against 3.5 from hop alone; after a miss −3 − 2 + 3.5.
  expect(savedAt(worth, 0.8)).toBeCloseTo(0.8 * 9 - 0.2 * 3 - 2 + 0.2 * 3.5 - 3.5, 2);
});

test('an item is worth what it opens, and nothing is opened without it', () => {
  const segments = [
    segment('a', 90, [use('oil', 0, 0, { take: 'oil', costs: 7 })]),
    segment('b', 90, [use('burn', 30, 2, { with: 'oil' })]),
  ];
  const oil = value(segments, 'oil', { burn: 0.8 }).worth;
  const burn = 0.8 * 30 - 0.2 * 2;
  expect(oil.breakEven).toBeCloseTo(7 / burn, 6);
  expect(savedAt(oil, 0.9)).toBeCloseTo(0.9 * burn - 7, 2);
  expect(oil.items).toEqual(['oil']);
  const closed = value(segments, 'burn').worth;
  expect(closed.breakEven).toBeNull();
  expect(closed.missingItems).toEqual(['oil']);
  // With the pick-up in the run at 0.9: 0.9·(r·30 − (1 − r)·2) − 7 = 0.
  expect(value(segments, 'burn', { oil: 0.9 }).worth.breakEven).toBeCloseTo((7 / 0.9 + 2) / 32, 6);
  expect(value(segments, 'burn', { oil: 0.9 }).worth.missingItems).toEqual([]);
});

test('the baseline uses what is in the run only where it lowers V, and the best in a spot', () => {
  const segments = [
    segment('a', 90, [use('clip', 9, 3, { spot: 'gate' }), use('hop', 4, 1, { spot: 'gate' })]),
    segment('b', 90, [use('kick', 1, 9)]),
  ];
  const { base } = value(segments, 'none', { clip: 0.3, hop: 0.9, kick: 0.5 });
  expect([...base.played]).toEqual([1, -1]);
  expect(base.state.worth(usual).finalTime).toBeCloseTo(180 - 3.5, 9);
});

test('a technique used nowhere is worth nothing and says so', () => {
  const { worth } = value([segment('a', 90, [])], 'kick');
  expect(worth.used).toBe(false);
  expect(worth.breakEven).toBeNull();
});
