import fc from 'fast-check';
import { expect, test } from 'vitest';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import { expectationInRun } from '../../../../server/src/model/skill/rateEstimates.ts';
import { computeOdds } from '../../../../server/src/model/run/odds.ts';
import type { OddsInput } from '../../../../server/src/model/run/odds.ts';
import { oddsFromLogs } from '../../../../server/src/model/run/oddsFromLogs.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import type { SegmentModel } from '../../../../server/src/model/core/types.ts';
import { runnerScenarios } from '../../../../server/src/model/run/runnerScenarios.ts';
import {
  block,
  noLogs,
  plainOptions,
  route,
  runTries,
  segment,
  technique,
  use,
} from '../../../helpers/invented.ts';
import { anyRoute, ends } from '../../../helpers/runPlans.ts';
import type { Rates } from '../../../helpers/runPlans.ts';

function ask(segments: SegmentModel[], rates: Rates, target: number | null, more: Partial<OddsInput> = {}) {
  return computeOdds({
    route: route(segments, []),
    tried: new Set(Object.keys(rates)),
    rateOf: (id) => rates[id] ?? 0,
    target,
    constants: defaultConstants,
    ...more,
  });
}

test('by hand', () => {
  const segments = [
    segment('a', 10, [use('kick', 4, 1)], { spread: 0, survive: 0.8 }),
    segment('b', 20, [], { spread: 0 }),
  ];
  const answer = ask(segments, { kick: 0.75 }, 28);
  expect(answer.finishChance).toBeCloseTo(0.8, 12);
  expect(answer.finalTime).toBeCloseTo(30 - 0.75 * 4 + 0.25, 9);
  expect(answer.chance).toBeCloseTo(0.6, 12);
  expect(answer.quantiles).toEqual({ p10: 26, p50: 26, p90: 31 });
  // 14 s restart, 7.25 s of which a death takes half, 20 s where it goes on.
  expect(answer.clockPerFinish).toBeCloseTo((14 + 7.25 * 0.9 + 0.8 * 20) / 0.8, 9);
  expect(answer.perHour!.never).toBeCloseTo((3600 * 0.6) / (14 + 7.25 * 0.9 + 0.8 * 20), 9);
  expect(answer.perHour!.line).toBeCloseTo((3600 * 0.6) / (14 + 7.25 * 0.9 + 0.6 * 20), 9);
  expect(answer.resetLine.map(({ segment: id }) => id)).toEqual(['a', 'b']);
  expect(answer.resetLine[0]!.time!).toBeGreaterThan(6);
  expect(answer.resetLine[0]!.time!).toBeLessThan(11);
  expect(answer.bestAfter[0]).toEqual({ runs: 1, mean: answer.finalTime });
  expect(answer.bestAfter[1]!.mean).toBeCloseTo(26 + 5 * 0.25 ** 5, 9);
  expect(answer.uses).toEqual(['kick']);
});

test('a technique is tried only where that lowers V, and in a spot only the best', () => {
  const segments = [
    segment('a', 60, [use('clip', 9, 3, { spot: 'gate' }), use('hop', 4, 1, { spot: 'gate' })]),
    segment('b', 60, [use('kick', 1, 9)]),
  ];
  expect(ask(segments, { clip: 0.3, hop: 0.9, kick: 0.5 }, 110).uses).toEqual(['hop']);
  expect(ask(segments, { clip: 0.95, hop: 0.9, kick: 0.95 }, 110).uses).toEqual(['clip', 'kick']);
  expect(ask(segments, { clip: 0.95 }, 110, { tried: new Set() }).uses).toEqual([]);
});

test('without a target the distribution is all there is to tell', () => {
  const answer = ask([segment('a', 60, [])], {}, null);
  expect(answer).toMatchObject({ target: null, chance: null, perHour: null, resetLine: [{ time: null }] });
  expect(ask([segment('a', 60, [])], {}, NaN).chance).toBeNull();
});

test('nobody finishes: finite, or null', () => {
  const answer = ask([segment('a', 60, [], { survive: 0 }), segment('b', 60, [])], {}, 100);
  expect(answer.finishChance).toBeLessThan(1e-8);
  expect(answer.chance).toBeLessThan(1e-8);
  for (const number of [answer.finalTime, answer.quantiles.p50, answer.bestAfter[3]!.mean]) {
    expect(Number.isFinite(number)).toBe(true);
  }
});

test('a better landing rate never lowers the chance of a technique that is tried', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 1_000_000 }).map((n) => 0.4 + ((0.98 - 0.4) * n) / 1_000_000),
      fc.integer({ min: 0, max: 1_000_000 }).map((n) => 0 + ((0.02 - 0) * n) / 1_000_000),
      fc.integer({ min: 0, max: 1_000_000 }).map((n) => 105 + ((130 - 105) * n) / 1_000_000),
      fc.constantFrom({}, ends, { retrySeconds: 1, maxTries: 3 }),
      (rate, more, target, kind) => {
        const segments = [
          segment('a', 60, [use('kick', 8, 1, kind)], { spread: 2 }),
          segment('b', 60, [use('kick', 5, 1, { id: 'kick@b', ...kind })], { spread: 3, survive: 0.9 }),
        ];
        const before = ask(segments, { kick: rate }, target).chance!;
        expect(ask(segments, { kick: rate + more }, target).chance!).toBeGreaterThanOrEqual(before - 1e-12);
      },
    ),
    { numRuns: 60 },
  );
});

test('chances stay in order, and masses within the chance to finish', () => {
  fc.assert(
    fc.property(
      anyRoute,
      fc.integer({ min: 0, max: 1_000_000 }).map((n) => 10 + ((400 - 10) * n) / 1_000_000),
      ({ segments, rates }, target) => {
        const answer = ask(segments, rates, target);
        expect(answer.chance!).toBeLessThanOrEqual(answer.finishChance + 1e-12);
        const { p10, p50, p90 } = answer.quantiles;
        expect(p10 <= p50 && p50 <= p90).toBe(true);
        const bests = answer.bestAfter.map(({ mean }) => mean);
        expect(bests).toEqual([...bests].sort((a, b) => b - a));
        expect(answer.perHour!.line).toBeGreaterThanOrEqual(answer.perHour!.never * (1 - 1e-9));
      },
    ),
    { numRuns: 40 },
  );
});

test('twice the seconds, twice the times, and the same chances', () => {
  const make = (by: number) =>
    Array.from({ length: 5 }, (_, s) =>
      segment(`s${s}`, 60 * by, [use(`t${s}`, 3 * by, 1 * by)], { spread: 1.3 * by, survive: 0.97 }),
    );
  const rates = { t0: 0.5, t1: 0.7, t2: 0.9, t3: 0.6, t4: 0.8 };
  const scaled = (by: number) =>
    computeOdds({
      route: { ...route(make(by), []), restart: 14 * by },
      tried: new Set(Object.keys(rates)),
      rateOf: (id) => rates[id as keyof typeof rates],
      target: 288 * by,
      constants: defaultConstants,
      step: 0.1 * by,
    });
  const [one, two] = [scaled(1), scaled(2)];
  expect(two.chance).toBeCloseTo(one.chance!, 9);
  expect(two.quantiles.p10 / 2).toBeCloseTo(one.quantiles.p10, 6);
  expect(two.perHour!.line * 2).toBeCloseTo(one.perHour!.line, 9);
  one.resetLine.forEach(({ time }, s) => {
    if (time !== null) expect(two.resetLine[s]!.time! / 2).toBeCloseTo(time, 6);
  });
});

const ids = ['a', 'b', 'c', 'd'];
const logged = {
  route: route(
    ids.map((id) => segment(`s-${id}`, 60, [use(id, 6, 1)], { spread: 1 })),
    ids.map((id) => technique(id, { state: 'in-run' })),
  ),
  logs: {
    practice: ids.map((id, i) => block(id, i, 60, 100)),
    runs: [runTries('a', 5, 3, 6), runTries('b', 5, 2, 5)],
  },
  asOfDay: 6,
  options: plainOptions,
};

test('possible runners average to the posterior mean rates', () => {
  const prepared = prepareModel(logged);
  const means = new Map(
    ids.map((id) => {
      const { posterior, logitsNow } = prepared.fittedTechniques.get(id)!;
      return [id, expectationInRun(posterior, logitsNow, prepared.rates)] as const;
    }),
  );
  const worlds = runnerScenarios(prepared, means);
  expect(worlds.length).toBeGreaterThan(5);
  expect(worlds.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 9);
  for (const id of ids) {
    const rates = worlds.map(({ rateOf }) => rateOf(id));
    const mean = worlds.reduce((sum, { weight }, i) => sum + weight * rates[i]!, 0);
    expect(mean).toBeCloseTo(means.get(id)!, 6);
    expect(rates.reduce((a, b) => Math.max(a, b)) - rates.reduce((a, b) => Math.min(a, b))).toBeGreaterThan(
      0.03,
    );
  }
});

test('doubt about the runner keeps the mean and widens the distribution', () => {
  const doubted = oddsFromLogs(logged, { target: 225 });
  const taken = oddsFromLogs(logged, { target: 225, ratesKnown: true });
  expect(doubted.finalTime).toBeCloseTo(taken.finalTime, 4);
  const width = ({ quantiles }: typeof doubted): number => quantiles.p90 - quantiles.p10;
  expect(width(doubted)).toBeGreaterThan(width(taken));
  expect(doubted.bestAfter.at(-1)!.mean).not.toBeCloseTo(taken.bestAfter.at(-1)!.mean, 3);
  expect(doubted.perHour!.line).toBeGreaterThanOrEqual(doubted.perHour!.never);
});

test('what is asked for is counted in, and what is unknown left out', () => {
  const bare = {
    ...logged,
    logs: noLogs,
    route: { ...logged.route, techniques: [technique('a', { difficulty: 1 })] },
  };
  expect(oddsFromLogs(bare, { target: 230 }).uses).toEqual([]);
  expect(oddsFromLogs(bare, { target: 230, with: ['a', 'nobody'] }).uses).toEqual(['a']);
});
