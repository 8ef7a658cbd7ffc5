import { describe, expect, it } from 'vitest';
import { planWeek } from '../../../../server/src/model/week/planWeek.ts';
import type { PlanInput } from '../../../../server/src/model/week/planWeek.ts';
import { block, route, segment, technique, use } from '../../../helpers/invented.ts';

const ids = ['ash', 'bell', 'crag', 'dune', 'elm', 'fern'];
const segments = ids.map((id, i) => segment(`s-${id}`, 60, [use(id, 2 + i, 1)]));

function ask(changes: Partial<PlanInput> = {}): PlanInput {
  const techniques = ids.map((id, i) =>
    technique(id, { difficulty: 2 + i, needs: id === 'fern' ? ['elm'] : [] }),
  );
  return {
    route: route(segments, techniques),
    logs: { practice: [], runs: [] },
    asOfDay: 100,
    options: { blockMinutes: 25, confidence: 0.8, all: false },
    minutes: Array.from({ length: 14 }, (_, d) => (d % 7 < 5 ? 100 : 0)),
    evaluations: 60,
    boundRounds: 20,
    ...changes,
  };
}

describe('a plan from a route and its logs', () => {
  it('practises what is carried over, until it may leave', () => {
    const practice = [97, 98, 99].map((day) => block('dune', day, 30, 150, { minutes: 25 }));
    const plan = planWeek(ask({ logs: { practice, runs: [] } }));
    const leaves = plan.changes.find(({ technique }) => technique === 'dune');
    if (leaves === undefined) expect(plan.days.every(({ set }) => set.includes('dune'))).toBe(true);
    else expect(plan.days.find(({ day }) => day === leaves.day)!.set).not.toContain('dune');
    expect(plan.set.length).toBe(4);
  });

  it('keeps needs before what needs them', () => {
    const plan = planWeek(ask({ minutes: Array<number>(28).fill(120) }));
    const first = (id: string): number => {
      const day = plan.days.findIndex(({ blocks }) => blocks.some((b) => b.technique === id));
      return day < 0 ? Infinity : day;
    };
    expect(first('fern')).toBeGreaterThanOrEqual(first('elm'));
    expect(first('elm') === Infinity ? first('fern') : 0).toBe(first('elm') === Infinity ? Infinity : 0);
  });

  it('never plans what is left out, and always what is pinned', () => {
    const input = ask({ pin: ['ash'] });
    const plan = planWeek({ ...input, options: { ...input.options, leaveOut: ['bell', 'crag'] } });
    const sessions = plan.days.filter(({ blocks }) => blocks.length > 0);
    expect(sessions.every(({ set }) => set.includes('ash'))).toBe(true);
    expect(sessions.flatMap(({ set }) => set)).not.toContain('bell');
    expect(sessions.flatMap(({ set }) => set)).not.toContain('crag');
  });

  it('forecasts a gain that grows with more minutes and lies within its range', () => {
    const plan = planWeek(ask());
    const more = planWeek(ask({ minutes: Array.from({ length: 14 }, () => 120) }));
    const last = plan.forecast.at(-1)!;
    expect(last.gain).toBeGreaterThan(0);
    expect(more.forecast.at(-1)!.gain).toBeGreaterThan(last.gain);
    for (const { gain, low, high } of plan.forecast) {
      expect(low).toBeLessThanOrEqual(gain);
      expect(high).toBeGreaterThanOrEqual(gain);
    }
    const mean = plan.forecast.reduce((sum, { gain }) => sum + gain, 0) / plan.forecast.length;
    expect(plan.gap.value).toBeCloseTo(mean, 9);
    expect(plan.oneSession.gain).toBeLessThan(last.gain);
  });

  it('is empty without minutes, and says why something wished for is not planned', () => {
    const none = planWeek(ask({ minutes: [0, 10, Number.NaN, -5] }));
    expect(none.days.every(({ blocks }) => blocks.length === 0)).toBe(true);
    expect(none.forecast.every(({ gain }) => gain === 0)).toBe(true);
    expect(planWeek(ask({ minutes: [] })).days).toEqual([]);
    const blocked = planWeek(ask({ pin: ['fern'] }));
    const planned = blocked.days.some(({ set }) => set.includes('fern'));
    expect(planned || blocked.notPlanned.some(({ technique }) => technique === 'fern')).toBe(true);
  });
});
