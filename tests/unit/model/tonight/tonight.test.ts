import { describe, expect, it } from 'vitest';
import { ModelCache } from '../../../../server/src/model/core/modelCache.ts';
import { rank } from '../../../../server/src/model/rank/rank.ts';
import { standings } from '../../../../server/src/model/standing/standings.ts';
import { tonight } from '../../../../server/src/model/tonight/tonight.ts';
import type { TonightInput } from '../../../../server/src/model/tonight/tonightInput.ts';
import { planWeek } from '../../../../server/src/model/week/planWeek.ts';
import type { PlanInput } from '../../../../server/src/model/week/planWeek.ts';
import { block, route, segment, technique, use } from '../../../helpers/invented.ts';

const ids = ['ash', 'bell', 'crag', 'dune'];
const segments = ids.map((id, i) => segment(`s-${id}`, 60, [use(id, 2 + i, 1)]));
const today = 100;

function ask(changes: Partial<PlanInput> = {}, lastTime: TonightInput['lastTime'] = null): TonightInput {
  const model = {
    route: route(
      segments,
      ids.map((id, i) => technique(id, { difficulty: 2 + i })),
    ),
    logs: { practice: [], runs: [] },
    asOfDay: today,
    options: { blockMinutes: 25, confidence: 0.8, all: true },
    ...changes,
  };
  const minutes = changes.minutes ?? Array.from({ length: 14 }, () => 100);
  const plan: PlanInput = {
    ...model,
    minutes,
    standings: standings(model),
    evaluations: 60,
    boundRounds: 0,
  };
  return { plan, givenMinutes: minutes, lastTime };
}

describe('tonight', () => {
  it('has the blocks of the first day of the plan, with where each technique stands', () => {
    const input = ask();
    const { day, blocks, nothing, standings: stands, unused } = tonight(input);
    const plan = planWeek(input.plan);
    expect(day).toBe(today);
    expect(nothing).toBeNull();
    expect(blocks.map(({ technique, minutes, rest }) => ({ technique, minutes, rest }))).toEqual(
      plan.days[0]!.blocks,
    );
    expect(unused).toEqual(plan.days[0]!.unused);
    expect(stands).toEqual(plan.standings);
    const rows = new Map(rank(input.plan).rows.map((row) => [row.technique, row]));
    for (const { technique, standing, gainPerHour } of blocks) {
      expect(gainPerHour).toBeCloseTo(rows.get(technique)!.gainPerHour, 12);
      expect(standing).toEqual(plan.standings.find((one) => one.technique === technique));
      expect(gainPerHour).toBeGreaterThan(0);
    }
  });

  it('is the same with a cache and without', () => {
    const practice = [98, 99].map((day) => block('dune', day, 30, 150, { minutes: 25 }));
    const before = { ...ask().plan, logs: { practice: practice.slice(0, 1), runs: [] }, asOfDay: 99 };
    const input = ask({ logs: { practice, runs: [] } }, before);
    const caches = { today: new ModelCache(), lastTime: new ModelCache() };
    const once = tonight(input, caches);
    expect(tonight(input, caches)).toEqual(once);
    expect(tonight(input)).toEqual(once);
  });

  it('calls a technique a gamble where it is unlikely to pay, and no other', () => {
    const hard = ids.map((id) => technique(id, { difficulty: id === 'dune' ? 9 : 1 }));
    const uses = ids.map((id) =>
      segment(`s-${id}`, 60, [use(id, id === 'dune' ? 20 : 3, id === 'dune' ? 15 : 1)]),
    );
    const { blocks } = tonight(ask({ route: route(uses, hard) }));
    const gambles = new Map(blocks.map(({ technique, gamble }) => [technique, gamble]));
    expect(gambles.get('dune')!.chance).toBeLessThan(0.5);
    expect(gambles.get('dune')!.chance).toBeGreaterThan(0);
    expect(gambles.get('dune')!.hours).toBeGreaterThan(0);
    for (const id of ['ash', 'bell', 'crag']) if (gambles.has(id)) expect(gambles.get(id)).toBeNull();
  });

  it('says what was practised today, in its order and summed, and compares with the last day', () => {
    const practice = [
      block('dune', 99, 30, 150, { minutes: 25 }),
      block('crag', today, 30, 150, { minutes: 20 }),
      block('ash', today, 30, 150, { minutes: 10 }),
      block('crag', today, 30, 150, { minutes: 5 }),
    ].map((entry, order) => ({ ...entry, order }));
    const before = { ...ask().plan, asOfDay: 99 };
    const { done, lastDay, changed } = tonight(ask({ logs: { practice, runs: [] } }, before));
    expect(done).toEqual([
      { technique: 'crag', minutes: 25 },
      { technique: 'ash', minutes: 10 },
    ]);
    expect(lastDay).toBe(99);
    expect(changed.map(({ technique, from }) => ({ technique, from }))).toEqual(
      ['ash', 'crag', 'dune'].map((technique) => ({ technique, from: 'not-begun' })),
    );
  });

  it('has nothing to compare with where nothing was logged before', () => {
    expect(tonight(ask())).toMatchObject({ lastDay: null, changed: [], done: [] });
  });
});
