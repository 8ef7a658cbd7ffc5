import { describe, expect, test } from 'vitest';
import { planWeek } from '../../../../server/src/model/week/planWeek.ts';
import type { PlanInput } from '../../../../server/src/model/week/planWeek.ts';
import { swapRule } from '../../../../server/src/model/week/swapOffers.ts';
import { block, plainOptions, route, segment, technique, use } from '../../../helpers/invented.ts';

/** A week with one place in the set, held by a technique that saves little; the other saves ten times as much. */
function week(days: number, more: Partial<PlanInput> = {}): PlanInput {
  const practice = Array.from({ length: days }, (_, day) =>
    block('small', day, 60, 300, { minutes: 30, order: day }),
  );
  return {
    route: route(
      [segment('a', 60, [use('small', 0.5, 1)]), segment('b', 60, [use('large', 5, 1)])],
      [technique('small', { difficulty: 5 }), technique('large', { difficulty: 5 })],
    ),
    logs: { practice, runs: [] },
    asOfDay: days,
    options: plainOptions,
    minutes: Array.from({ length: 7 }, () => 25),
    boundRounds: 0,
    ...more,
  };
}

describe('swaps', () => {
  test('are offered for what gains more than three times as much an hour, and never made', () => {
    const { swaps, set, days } = planWeek(week(6));
    expect(swaps.map(({ technique: id, instead }) => [id, instead])).toEqual([['small', 'large']]);
    expect(swaps[0]!.insteadGainPerHour).toBeGreaterThan(swapRule.timesAsMuch * swaps[0]!.gainPerHour);
    expect(set).toEqual(['small']);
    expect(days[0]!.blocks.map((one) => one.technique)).toEqual(['small']);
  });

  test('are not offered after a single day, nor for what the runner pinned', () => {
    expect(planWeek(week(1)).swaps).toEqual([]);
    expect(planWeek(week(6, { pin: ['small'] })).swaps).toEqual([]);
  });

  test('are made by the week file: one put aside, the other taken up', () => {
    const asked = week(6);
    const techniques = [
      technique('small', { difficulty: 5, state: 'unlearned', stateWritten: true }),
      technique('large', { difficulty: 5, state: 'learning', stateWritten: true }),
    ];
    const { swaps, set } = planWeek({ ...asked, route: { ...asked.route, techniques } });
    expect(swaps).toEqual([]);
    expect(set).toEqual(['large']);
  });
});
