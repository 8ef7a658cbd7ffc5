/**
 * The expected run where items tie its parts together, against every way the run can go, followed one by one: code
 * of its own, on the route as it is written. Source: the definition of an expected value; no outside source.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import type { SegmentModel } from '../../../../server/src/model/core/types.ts';
import { massAndMean } from '../../../../server/src/model/run/timeStatistics.ts';
import { RunState } from '../../../../server/src/model/run/runState.ts';
import { segment, use } from '../../../helpers/invented.ts';
import { ends, evenly, playAll } from '../../../helpers/runPlans.ts';
import type { Rates } from '../../../helpers/runPlans.ts';

/** Chance to finish, expected final time of a finished run, and clock seconds of a started one without restart. */
function enumerate(segments: readonly SegmentModel[], rates: Rates) {
  let [finished, total] = [0, 0];
  const reach = new Map<string, number>();
  const spent = new Map<string, number>();
  const survived = new Map<string, number>();
  const add = (to: Map<string, number>, key: string, by: number): void => {
    to.set(key, (to.get(key) ?? 0) + by);
  };
  const walk = (
    s: number,
    u: number,
    chance: number,
    time: number,
    held: readonly string[],
    key: string,
    here: number,
  ): void => {
    const now = segments[s];
    if (now === undefined) {
      finished += chance;
      total += chance * time;
      return;
    }
    const one = now.uses[u];
    if (one === undefined) {
      add(survived, key, chance);
      add(spent, key, chance * here);
      const next = [...held].sort();
      const nextKey = `${s + 1} ${next.join()}`;
      add(reach, nextKey, chance);
      walk(s + 1, 0, chance, time, next, nextKey, segments[s + 1]?.time ?? 0);
      return;
    }
    const go = (by: number, seconds: number, items: readonly string[]): void => {
      if (by > 0) walk(s, u + 1, chance * by, time + seconds, items, key, here + seconds);
    };
    if (one.with !== undefined && !held.includes(one.with)) return go(1, 0, held);
    const rate = rates[one.technique] ?? 0;
    const costs = one.take === undefined ? 0 : one.costs;
    go(rate, costs - one.saves.mean, one.take === undefined ? held : [...new Set([...held, one.take])]);
    for (const miss of one.misses) if (!miss.endsRun) go((1 - rate) * miss.chance, costs + miss.loses, held);
  };
  const first = '0 ';
  add(reach, first, 1);
  const base = segments.reduce((sum, { time }) => sum + time, 0);
  walk(0, 0, 1, base, [], first, segments[0]!.time);
  let clock = 0;
  for (const [key, chance] of reach) {
    const lives = survived.get(key) ?? 0;
    // A run that ends in a segment takes half the time of one that survives it with the same items.
    if (lives > 0) clock += (spent.get(key)! / lives) * ((chance + lives) / 2);
  }
  return { finish: finished, finalTime: total / finished, clock };
}

function expectedRun(segments: SegmentModel[], rates: Rates) {
  const { layout, played, rateOf, times } = playAll(segments, rates);
  const state = new RunState(layout);
  state.recompute(played, rateOf);
  return { state, times, worth: state.worth({ ...defaultConstants, clockWeight: 0.01 }), layout };
}

test('an item that two uses need which can end the run', () => {
  const segments = [
    segment('a', 60, [use('fetch', 0, 0, { take: 'oil', costs: 1 })], { spread: 0 }),
    segment('b', 60, [use('burn', 15, 0, { with: 'oil', ...ends })], { spread: 0 }),
    segment('c', 60, [use('flare', 15, 0, { with: 'oil', ...ends })], { spread: 0 }),
  ];
  const rates = { fetch: 0.5, burn: 0.5, flare: 0.5 };
  const exact = enumerate(segments, rates);
  // By hand: without the oil always, with it a quarter; of those who finish one in five had it.
  expect(exact.finish).toBeCloseTo(0.625, 12);
  expect(exact.finalTime).toBeCloseTo(181 - 0.2 * 30, 9);
  const { worth, state, times, layout } = expectedRun(segments, rates);
  expect(worth.finishChance).toBeCloseTo(exact.finish, 12);
  expect(worth.finalTime).toBeCloseTo(exact.finalTime, 9);
  expect(worth.clockPerFinish).toBeCloseTo((exact.clock + layout.restart) / exact.finish, 9);
  expect([...state.seconds].reduce((sum, seconds) => sum + seconds, 0)).toBeCloseTo(exact.finalTime, 9);
  expect(massAndMean(times).mean).toBeCloseTo(exact.finalTime, 9);
});

const anyUse = fc.record({
  saves: evenly(0, 12),
  loses: evenly(0, 9),
  ending: fc.constantFrom(0, 0.3, 1),
  rate: evenly(0, 1),
  take: fc.constantFrom(undefined, undefined, 'oil', 'rope', 'key'),
  needs: fc.constantFrom(undefined, undefined, 'oil', 'rope', 'key'),
});

test('items of every kind: finish, final time and clock are those of all ways the run can go', () => {
  const anyRun = fc.array(fc.array(anyUse, { maxLength: 2 }), { minLength: 1, maxLength: 5 });
  fc.assert(
    fc.property(anyRun, (parts) => {
      const rates: Record<string, number> = {};
      const segments = parts.map((uses, s) =>
        segment(
          `s${s}`,
          50 + s,
          uses.map(({ saves, loses, ending, rate, take, needs }, u) => {
            const id = `t${s}-${u}`;
            rates[id] = rate;
            const misses = [
              { chance: 1 - ending, loses, endsRun: false },
              { chance: ending, loses: 0, endsRun: true },
            ];
            return use(id, saves, loses, {
              misses,
              ...(take !== undefined && { take, costs: 2 }),
              ...(needs !== undefined && { with: needs }),
            });
          }),
          { spread: 0 },
        ),
      );
      const exact = enumerate(segments, rates);
      fc.pre(exact.finish > 1e-6);
      const { worth, layout } = expectedRun(segments, rates);
      expect(worth.finishChance / exact.finish).toBeCloseTo(1, 9);
      expect(worth.finalTime).toBeCloseTo(exact.finalTime, 6);
      expect((worth.clockPerFinish * exact.finish) / (exact.clock + layout.restart)).toBeCloseTo(1, 9);
    }),
    { numRuns: 300, seed: 3 },
  );
});

test('more items at once than are tracked: who survived their uses still more likely did not hold them', () => {
  const names = ['a', 'b', 'c', 'd', 'e', 'f', 'g'];
  const ending = { misses: [{ chance: 1, loses: 0, endsRun: true }] };
  const segments = [
    segment(
      'take',
      60,
      names.map((id) => use(id, 0, 0, { take: id })),
      { spread: 0 },
    ),
    segment(
      'one',
      60,
      names.map((id) => use(`${id}1`, 4, 0, { with: id, ...ending })),
      { spread: 0 },
    ),
    segment(
      'two',
      60,
      names.map((id) => use(`${id}2`, 4, 0, { with: id, ...ending })),
      { spread: 0 },
    ),
  ];
  const rates = Object.fromEntries(names.flatMap((id) => [id, `${id}1`, `${id}2`].map((t) => [t, 0.5])));
  const { worth, layout, times } = expectedRun(segments, rates);
  expect(layout.items.rough).toEqual(['g']);
  // Each item alone is finished with at 0.625, and all are independent of one another.
  expect(worth.finishChance).toBeCloseTo(0.625 ** 7, 12);
  expect(massAndMean(times).mass).toBeCloseTo(0.625 ** 7, 12);
});
