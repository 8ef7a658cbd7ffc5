import { expect, test } from 'vitest';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import { logit } from '../../../../server/src/model/core/numbers.ts';
import { interpolateTable } from '../../../../server/src/model/core/rateTable.ts';
import {
  chanceInAnHour,
  buildTargetBaseline,
  targetWorth,
} from '../../../../server/src/model/run/targetWorth.ts';
import { playUnderLine } from '../../../../server/src/model/run/resetLine.ts';
import { planRun } from '../../../../server/src/model/run/runPlan.ts';
import { chooseBaseline } from '../../../../server/src/model/run/baseline.ts';
import type { SegmentModel } from '../../../../server/src/model/core/types.ts';
import { route, segment, use } from '../../../helpers/invented.ts';
import { ends } from '../../../helpers/runPlans.ts';
import type { Rates } from '../../../helpers/runPlans.ts';

function baseOf(segments: SegmentModel[], rates: Rates, target: number) {
  return buildTargetBaseline({
    route: route(segments, []),
    tried: new Set(Object.keys(rates)),
    rateOf: (id) => rates[id] ?? 0,
    target,
    constants: defaultConstants,
  });
}

/** The chance in an hour with `technique` at `rate`, the whole run played anew under the same line. */
function afresh(from: ReturnType<typeof baseOf>, technique: string, rate: number): number {
  const { layout, input, line, plan } = from;
  const tried = new Set([...input.tried, technique]);
  const rateOf = (id: string): number =>
    id === technique ? rate : input.tried.has(id) ? input.rateOf(id) : 0;
  const { played } = chooseBaseline(layout, (id) => tried.has(id), rateOf, input.constants);
  const anew = planRun(input.route, layout, { played, rateOf }, plan.step).plan;
  const { success, clock } = playUnderLine(anew, line, input.target);
  return chanceInAnHour(success, clock);
}

const five = (extra: SegmentModel['uses'] = []): SegmentModel[] =>
  Array.from({ length: 5 }, (_, s) =>
    segment(`s${s}`, 60, [use(`t${s}`, 3, 1), ...(s === 2 ? extra : [])], { spread: 1.5, survive: 0.98 }),
  );
const rates = { t0: 0.6, t1: 0.7, t2: 0.8, t3: 0.5, t4: 0.9 };

test('the chance in an hour, by hand', () => {
  expect(chanceInAnHour(0.1, 1800)).toBeCloseTo(1 - 0.9 ** 2, 12);
  expect(chanceInAnHour(1e-9, 600)).toBeCloseTo(6e-9, 15);
  expect(chanceInAnHour(0, 600)).toBe(0);
  expect(chanceInAnHour(1, 1800)).toBe(1);
});

test('a table agrees with playing the whole run anew at every rate', () => {
  const kinds = [
    use('new', 5, 2),
    use('new', 5, 2, ends),
    use('new', 5, 2, { retrySeconds: 1, maxTries: 3 }),
    use('new', 5, 2, { backup: 't1' }),
  ];
  for (const kind of kinds) {
    const from = baseOf(five([kind]), rates, 287);
    expect(from.now).toBeGreaterThan(0.01);
    const { rise, without } = targetWorth(from, 'new');
    expect(without).toBe(from.now);
    for (const rate of [0.05, 0.5, 0.8, 0.93]) {
      // Tolerance: what the table's own steps leave between its points.
      expect(
        Math.abs(interpolateTable(rise, logit(rate)) - (afresh(from, 'new', rate) - from.now)),
      ).toBeLessThan(3e-4);
    }
    expect(interpolateTable(rise, logit(0.02))).toBe(0);
    expect(interpolateTable(rise, logit(0.97))).toBeGreaterThan(0.01);
  }
});

test('a technique in several segments, one in the run already, and an item with what it opens', () => {
  const segments = [
    segment('a', 60, [use('kick', 4, 1), use('oil', 0, 0, { take: 'oil', costs: 2 })], { spread: 1 }),
    segment('b', 60, [], { spread: 1.5 }),
    segment('c', 60, [use('kick', 3, 1, { id: 'kick@c' }), use('burn', 9, 1, { with: 'oil' })], {
      spread: 1,
    }),
    segment('d', 60, [use('hop', 2, 1)], { spread: 1 }),
  ];
  const from = baseOf(segments, { hop: 0.8, oil: 0.9 }, 232);
  for (const id of ['kick', 'burn']) {
    const { rise } = targetWorth(from, id);
    for (const rate of [0.4, 0.75, 0.95]) {
      expect(
        Math.abs(interpolateTable(rise, logit(rate)) - (afresh(from, id, rate) - from.now)),
      ).toBeLessThan(3e-4);
    }
  }
  const hop = targetWorth(from, 'hop');
  expect(hop.without).toBeLessThan(from.now);
  expect(hop.without + interpolateTable(hop.rise, logit(0.8))).toBeCloseTo(from.now, 4);
});

test('what no segment uses is worth nothing', () => {
  const { rise, without } = targetWorth(baseOf(five(), rates, 287), 'nobody');
  expect(without).toBeGreaterThan(0);
  expect(rise.values.every((value) => value === 0)).toBe(true);
});
