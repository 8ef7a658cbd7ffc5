import { describe, expect, it } from 'vitest';
import { planWeek } from '../../../../server/src/model/week/planWeek.ts';
import type { Plan, PlanInput } from '../../../../server/src/model/week/planWeek.ts';
import type { StandingKind } from '../../../../server/src/model/core/types.ts';
import { simpleStandings } from '../../../helpers/weekStandings.ts';
import { block, route, segment, technique, use } from '../../../helpers/invented.ts';

const ids = ['ash', 'bell', 'crag', 'dune', 'elm', 'fern'];
const segments = ids.map((id, i) => segment(`s-${id}`, 60, [use(id, 2 + i, 1)]));

function ask(changes: Partial<PlanInput> = {}): PlanInput {
  const techniques = ids.map((id, i) =>
    technique(id, { difficulty: 2 + i, needs: id === 'fern' ? ['elm'] : [] }),
  );
  const input = {
    route: route(segments, techniques),
    logs: { practice: [], runs: [] },
    asOfDay: 100,
    options: { blockMinutes: 25, confidence: 0.8, all: false },
    minutes: Array.from({ length: 14 }, (_, d) => (d % 7 < 5 ? 100 : 0)),
    evaluations: 60,
    boundRounds: 20,
    ...changes,
  };
  return { standings: simpleStandings(input.route, input.logs, input.asOfDay), ...input };
}

/** The kinds of some techniques; all others are not begun. */
const kinds = (given: Record<string, StandingKind>): PlanInput['standings'] =>
  new Map(Object.entries(given).map(([id, kind]) => [id, { kind }]));

const sessionsOf = ({ days }: Plan): Plan['days'] => days.filter(({ blocks }) => blocks.length > 0);

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

  it('keeps all that is being learned, though they are more than the places', () => {
    const standings = kinds({ ash: 'learning', bell: 'learning', crag: 'learning' });
    // With this confidence nothing becomes competent.
    const options = { blockMinutes: 25, confidence: 0.999999, all: false };
    const plan = planWeek(ask({ standings, options, minutes: [30, 30, 30, 30, 30, 30] }));
    for (const { set } of sessionsOf(plan)) expect([...set].sort()).toEqual(['ash', 'bell', 'crag']);
    // They take turns, and none has a second one before the others.
    const turns = sessionsOf(plan).map(({ blocks }) => blocks.map((b) => b.technique).join());
    expect([...turns.slice(0, 3)].sort()).toEqual(['ash', 'bell', 'crag']);
    expect(turns.slice(3)).toEqual(turns.slice(0, 3));
    expect(plan.changes).toEqual([]);
  });

  it('practises first what has to be worked on again, also where the set is full', () => {
    const standings = kinds({ ash: 'learning', bell: 'learning', crag: 'again' });
    const plan = planWeek(ask({ standings, minutes: [30, 30, 30, 30] }));
    expect(plan.days[0]!.blocks.map(({ technique }) => technique)).toEqual(['crag']);
    expect([...plan.days[0]!.set].sort()).toEqual(['ash', 'bell', 'crag']);
  });

  it('practises what has to be worked on again, though the ranking has no use for it', () => {
    const input = ask();
    const { route: made } = input;
    const useless = { ...made, techniques: [...made.techniques, technique('gale', { state: 'in-run' })] };
    const plan = planWeek({ ...input, route: useless, standings: kinds({ gale: 'again' }) });
    for (const { set } of sessionsOf(plan)) expect(set).toContain('gale');
  });

  it('takes in nothing of the run beside what is new and gains about as much, and nothing where nothing is new', () => {
    const practice = [98, 99].map((day) => block('ash', day, 100, 150, { minutes: 25 }));
    const standings = kinds({ ash: 'in-run', bell: 'in-run', crag: 'in-run' });
    const outsiders = planWeek(ask({ standings }));
    for (const id of ['ash', 'bell', 'crag'])
      expect(outsiders.days.flatMap(({ set }) => set)).not.toContain(id);
    const all = kinds(Object.fromEntries(ids.map((id) => [id, 'in-run'])));
    const alone = planWeek(ask({ standings: all, logs: { practice, runs: [] } }));
    for (const { set } of sessionsOf(alone)) expect(set).toEqual(['ash']);
    const given = ask({ standings, logs: { practice, runs: [] }, minutes: [30, 30, 30] });
    expect(planWeek(given).changes[0]).toMatchObject({ day: 100, technique: 'ash' });
  });

  it('leaves out what is waiting or left out, and says so of what is pinned', () => {
    const standings = kinds({ ash: 'left-out', elm: 'not-begun' });
    const plan = planWeek(ask({ standings }));
    expect(plan.days.flatMap(({ set }) => set)).not.toContain('ash');
  });

  it('names unused minutes with the rule that forbids their use', () => {
    const minutes = [0, 5, 17, 45, 60, 121, 600];
    const plan = planWeek(ask({ minutes, options: { blockMinutes: 30, confidence: 0.8, all: false } }));
    expect(plan.days.map(({ unused }) => unused?.rule ?? null)).toEqual([
      null,
      'short-block',
      'short-block',
      expect.toBeOneOf([null, 'short-block']),
      'short-block',
      'short-block',
      'hour-on-one',
    ]);
    expect(plan.days[4]!.blocks).toMatchObject([{ minutes: 27 }, { minutes: 27 }]);
    plan.days.forEach(({ blocks, unused }, d) => {
      const used = blocks.reduce((sum, { minutes: length, rest }) => sum + length + rest, 0);
      expect(used + (unused?.minutes ?? 0)).toBe(minutes[d]);
    });
    const none = kinds(Object.fromEntries(ids.map((id) => [id, 'in-run'])));
    expect(planWeek(ask({ standings: none, minutes: [60] })).days[0]!.unused).toEqual({
      minutes: 60,
      rule: 'nothing-to-practise',
    });
    expect(planWeek(ask({ minutes: [17, 60], restBefore: 5 })).days[0]!.unused).toEqual({
      minutes: 22,
      rule: 'rests',
    });
  });
});
