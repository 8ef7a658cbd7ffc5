import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../../server/src/model/week/planWeek.ts';
import type { UnusedMinutes } from '../../../../server/src/model/week/sessions.ts';
import { planNotes } from '../../../../server/src/reports/plan/planNotes.ts';
import { standing } from '../../../helpers/standings.ts';

const bare: Plan = {
  standings: [],
  swaps: [],
  asOfDay: 100,
  set: ['vault'],
  days: [],
  changes: [],
  forecast: [],
  oneSession: { gain: 0 },
  gap: { method: 'not bounded', value: 0, bound: null },
  notPlanned: [],
};
const words = {
  nameOf: (id: string) => id.toUpperCase(),
  dayOf: (day: number) => `day ${day}`,
  givenMinutes: [60],
  toldElsewhere: true,
};

function notesOf(
  changes: Plan['changes'],
  unused: readonly (UnusedMinutes | null)[],
  days?: Plan['days'],
): string[] {
  const plan: Plan = {
    ...bare,
    days:
      days ??
      unused.map((minutes, d) => ({
        day: 100 + d,
        set: ['vault'],
        blocks: [{ technique: 'vault', minutes: 25, rest: 0 }],
        unused: minutes,
      })),
    changes,
  };
  return planNotes(plan, { ...words, givenMinutes: unused.map(() => 60) });
}

describe('the notes of a plan', () => {
  it('say who takes a place, and who leaves it to nobody', () => {
    const changes = [
      { day: 101, technique: 'vault', replacedBy: 'skip' },
      { day: 102, technique: 'clip', replacedBy: null },
      { day: 120, technique: 'late', replacedBy: 'skip' },
    ];
    expect(notesOf(changes, [null])).toEqual([
      'From day 101 on SKIP takes the place of VAULT, which should be competent by then: runs keep it up.',
      'From day 102 on CLIP is left to runs: it should be competent by then, and the set has more techniques than a session has blocks.',
    ]);
  });

  it('say of a technique that leaves on the first day that it is competent', () => {
    const changes = [
      { day: 100, technique: 'vault', replacedBy: 'skip' },
      { day: 100, technique: 'clip', replacedBy: null },
    ];
    expect(notesOf(changes, [null])).toEqual([
      'SKIP takes the place of VAULT, which is competent: runs keep it up.',
      'CLIP is competent and left to runs: the set has more techniques than a session has blocks.',
    ]);
  });

  describe('of techniques that take turns', () => {
    const set = ['vault', 'skip', 'clip', 'hop'];
    const daysOf = (...practised: readonly (readonly string[])[]): Plan['days'] =>
      practised.map((techniques, d) => ({
        day: 100 + d,
        set,
        blocks: techniques.map((technique) => ({ technique, minutes: 25, rest: 5 })),
        unused: null,
      }));

    it('say who waits on some day, from the first change on, days off left out', () => {
      const days = daysOf(['vault', 'skip', 'clip'], [], ['hop', 'skip', 'vault'], ['clip', 'skip', 'hop']);
      expect(notesOf([], [null], days)).toEqual([
        'From day 102 on VAULT, CLIP and HOP take turns: the set has more techniques than a session has blocks.',
      ]);
    });

    it('say nothing where the same are practised, and where a longer session has a block for everybody', () => {
      expect(notesOf([], [null], daysOf(['vault', 'skip'], ['skip', 'vault']))).toEqual([]);
      expect(notesOf([], [null], daysOf(['vault', 'skip'], ['clip', 'hop'], set))).toEqual([]);
    });
  });

  it('say that the route has no techniques, where it has none, and else that none is left', () => {
    const empty = (standings: Plan['standings']): string[] =>
      planNotes(
        { ...bare, standings, set: [], days: [{ day: 100, set: [], blocks: [], unused: null }] },
        words,
      );
    expect(empty([])).toEqual(['The route has no techniques yet.']);
    expect(empty([standing('vault')])).toEqual(['No technique is left to practise.']);
  });

  it('count the days with unused minutes by the rule that forbids their use', () => {
    const notes = notesOf(
      [],
      [
        { minutes: 17, rule: 'short-block' },
        { minutes: 12, rule: 'short-block' },
        { minutes: 4, rule: 'short-block' },
        { minutes: 90, rule: 'hour-on-one' },
        null,
      ],
    );
    expect(notes).toEqual([
      '2 days of the plan have up to 17 min unused: a block takes at least 20 min.',
      '1 day of the plan has 90 min unused: at most an hour a day on one technique.',
    ]);
  });
});
