import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createPlanSimulator } from '../../../../server/src/model/week/planSimulator.ts';
import { bestPlan } from '../../../../server/src/model/week/planWeek.ts';
import { possibleSetSizes } from '../../../../server/src/model/week/sessions.ts';
import { inventWeek } from '../../../helpers/weekProblems.ts';
import { brokenRules, sessionMinutes } from '../../../helpers/weekRules.ts';

const minutes = fc.oneof(
  fc.integer({ min: 0, max: 600 }),
  fc.constantFrom(0, 0, 19, 20, 25, 50, 60, 100, 120, 150, 240, 600),
);
const week = fc.record({
  seed: fc.integer({ min: 1, max: 1e6 }),
  techniques: fc.integer({ min: 0, max: 14 }),
  days: fc.integer({ min: 1, max: 30 }),
  minutes: fc.array(minutes, { minLength: 7, maxLength: 7 }),
  block: fc.integer({ min: 20, max: 30 }),
  needing: fc.constantFrom(0, 0.3, 0.8),
  membersAtStart: fc.integer({ min: 0, max: 5 }),
  pinned: fc.integer({ min: 0, max: 2 }),
  again: fc.integer({ min: 0, max: 3 }),
  inRun: fc.integer({ min: 0, max: 3 }),
  practisedToday: fc.constantFrom(0, 0, 1, 4),
});

function sizesOf(problem: ReturnType<typeof inventWeek>): number[] {
  const count = (of: 'pinned' | 'inSetAtStart'): number => problem.items.filter((item) => item[of]).length;
  return possibleSetSizes(problem.minutes, problem.blockMinutes, {
    pinned: count('pinned'),
    currentMembers: count('inSetAtStart'),
  });
}

describe('plans', () => {
  it('break no rule, whatever minutes are given', () => {
    fc.assert(
      fc.property(week, ({ seed, ...given }) => {
        const problem = inventWeek(seed, given);
        const follow = createPlanSimulator(problem);
        const { schedule } = bestPlan(problem, follow, sizesOf(problem), { evaluations: 30, boundRounds: 0 });
        expect(brokenRules(problem, schedule)).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });

  it('in any order of entry: the quick way and the rule itself agree', () => {
    fc.assert(
      fc.property(week, fc.infiniteStream(fc.nat()), ({ seed, ...given }, shuffle) => {
        const problem = inventWeek(seed, given);
        const follow = createPlanSimulator(problem);
        const keys = problem.items.map((_, i) => [shuffle.next().value ?? 0, i] as const);
        const order = keys.sort((a, b) => a[0] - b[0] || a[1] - b[1]).map(([, i]) => i);
        for (const size of sizesOf(problem)) {
          for (const ties of ['rate', 'order'] as const) {
            const plan = follow.plan(order, size, ties);
            expect(brokenRules(problem, plan)).toEqual([]);
            expect(follow.area(order, size, ties)).toBeCloseTo(plan.area, 9);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('are the same twice', () => {
    const problem = inventWeek(7, { techniques: 20, days: 28, minutes: [100, 100, 75, 50, 100, 0, 0] });
    const once = bestPlan(problem, createPlanSimulator(problem), [4], { evaluations: 200, boundRounds: 20 });
    expect(
      bestPlan(problem, createPlanSimulator(problem), [4], { evaluations: 200, boundRounds: 20 }),
    ).toEqual(once);
  });

  it('nobody leaves who is being learned, and nobody who left comes back', () => {
    let departures = 0;
    fc.assert(
      fc.property(week, fc.infiniteStream(fc.nat()), ({ seed, ...given }, shuffle) => {
        const problem = inventWeek(seed, given);
        const keys = problem.items.map((_, i) => [shuffle.next().value ?? 0, i] as const);
        const order = keys.sort((a, b) => a[0] - b[0] || a[1] - b[1]).map(([, i]) => i);
        const [size] = sizesOf(problem);
        if (size === undefined) return;
        const { days } = createPlanSimulator(problem).plan(order, size, 'order');
        const gone = new Set<number>();
        days.forEach(({ left, members }, d) => {
          const before = days.slice(0, d).findLast((day) => day.members.length > 0)?.members;
          for (const { item, replacedBy } of left) {
            departures++;
            expect(before?.includes(item) ?? problem.items[item]!.inSetAtStart).toBe(true);
            if (replacedBy !== null) expect(members).toContain(replacedBy);
            // What cannot become competent never leaves.
            expect(problem.items[item]!.competentLevel).toBeLessThan(Infinity);
            gone.add(item);
          }
          expect(members.filter((i) => gone.has(i))).toEqual([]);
        });
      }),
      { numRuns: 60 },
    );
    expect(departures).toBeGreaterThan(10);
  });

  const clear = { techniques: 12, days: 14, minutes: [100, 100, 100, 0, 100, 60, 25], needing: 0 };

  it('all members of the start stay, though they are more than the places, and nobody enters', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const problem = inventWeek(seed, { ...clear, membersAtStart: 6 });
      const never = {
        ...problem,
        items: problem.items.map((item) => ({ ...item, competentLevel: Infinity })),
      };
      const members = [...never.items.keys()].filter((i) => never.items[i]!.inSetAtStart);
      const { days } = createPlanSimulator(never).plan([...never.items.keys()], 3);
      for (const day of days) expect([...day.members].sort((a, b) => a - b)).toEqual(members);
      // Every member has its turn before any has a second one.
      const shortDay = days.find(({ blocks }) => blocks.length === 1)!;
      expect(shortDay.blocks).toHaveLength(1);
      expect(brokenRules(never, { days, size: 3, area: 0 })).toEqual([]);
    }
  });

  it('what is to be worked on again is a member of a full set from the first session on, for two blocks or more', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const problem = inventWeek(seed, { ...clear, membersAtStart: 4, again: 1 });
      // All have been without practice for equally long: then its turn is the first.
      const items = problem.items.map((item) => ({
        ...item,
        idleDays: 5,
        competentLevel: item.again ? -Infinity : Infinity,
      }));
      const again = items.findIndex((item) => item.again);
      const { days } = createPlanSimulator({ ...problem, items }).plan([...items.keys()], 4);
      const had = (d: number): number =>
        days.slice(0, d).reduce((sum, { blocks }) => sum + blocks.filter((b) => b === again).length, 0);
      const leaves = days.findIndex(({ left }) => left.some(({ item }) => item === again));
      expect(days[0]!.members).toContain(again);
      expect(days[0]!.blocks).toContain(again);
      // The set of five has four places: competent, it leaves, and nobody takes its place.
      expect(had(leaves)).toBe(2);
      expect(days[leaves]!.left).toEqual([{ item: again, replacedBy: null }]);
    }
  });

  it('two techniques never take turns on days on which both fit', () => {
    const fits = week.filter(({ minutes: given }) => given.some((free) => free >= 45));
    fc.assert(
      fc.property(fits, ({ seed, ...given }) => {
        const problem = inventWeek(seed, { ...given, practisedToday: 0 });
        const sizes = sizesOf(problem);
        const { schedule } = bestPlan(problem, createPlanSimulator(problem), sizes, {
          evaluations: 20,
          boundRounds: 0,
        });
        for (const [d, { members, blocks }] of schedule.days.entries()) {
          const shortestSession = sessionMinutes(members.length, 20);
          if (shortestSession <= problem.minutes[d]!) expect(new Set(blocks)).toEqual(new Set(members));
        }
      }),
      { numRuns: 100 },
    );
  });

  it('a broken rule is seen', () => {
    const problem = inventWeek(3, {
      techniques: 14,
      days: 7,
      minutes: [100, 100, 100, 0, 100, 25, 0],
      needing: 0,
      membersAtStart: 4,
      again: 1,
      inRun: 2,
    });
    const plan = createPlanSimulator(problem).plan([...problem.items.keys()], 4);
    expect(brokenRules(problem, plan)).toEqual([]);
    const [first, ...rest] = plan.days;
    const changedDay = (at: number, day: Partial<typeof first>) => ({
      ...plan,
      days: plan.days.map((was, d) => (d === at ? { ...was, ...day } : was)),
    });
    const seen = (at: number, day: Partial<typeof first>): string =>
      brokenRules(problem, changedDay(at, day)).join();
    expect(seen(0, { length: 31 })).toContain('day 0: blocks of 31');
    expect(seen(0, { length: 31 })).toContain('day 0: longer than the day');
    const one = first!.blocks[0]!;
    expect(seen(0, { blocks: [one, one, one, one] })).toContain(
      `day 0: 80 minutes of ${problem.items[one]!.id}`,
    );
    expect(seen(0, { blocks: first!.blocks.slice(0, 2) })).toMatch(/day 0: \d+ minutes unused/);
    expect(seen(1, { blocks: plan.days[1]!.blocks.slice(0, 3) })).toContain(
      'day 1: not the whole set, though all fit',
    );
    const outsider = problem.items.findIndex(
      ({ competentLevel }, i) => competentLevel > 0 && plan.days.every(({ members }) => !members.includes(i)),
    );
    expect(seen(0, { blocks: [outsider] })).toMatch(/is not in the set/);
    expect(rest.length).toBe(6);
    // The set: five members at the start for four places, and one in the run that gives up its place.
    expect(first!.left.map(({ replacedBy }) => replacedBy)).toEqual([null]);
    expect(seen(0, { left: [] })).toMatch(/left without a reason/);
    expect(seen(0, { members: [...first!.members, outsider] })).toMatch(/entered too large a set/);
    expect(seen(0, { members: first!.members.slice(1) })).toMatch(/left without a reason/);
    const left = first!.left[0]!.item;
    expect(seen(1, { members: [...plan.days[1]!.members, left] })).toMatch(/is back/);
    const learned =
      first!.members.find((i) => problem.items[i]!.competentLevel > 9) ??
      first!.members.find((i) => !problem.items[i]!.again)!;
    const swapped = first!.members.map((i) => (i === learned ? outsider : i));
    expect(
      seen(0, { members: swapped, left: [...first!.left, { item: learned, replacedBy: outsider }] }),
    ).toMatch(/left and is not competent/);
    const inRun = problem.items.findIndex(
      ({ competentLevel, inSetAtStart }) => competentLevel < 0 && !inSetAtStart,
    );
    const small = { ...plan, size: 9 };
    expect(brokenRules(problem, small).join()).toMatch(/waits beside a free place/);
    expect(
      brokenRules(problem, {
        ...small,
        days: small.days.map((day) => ({ ...day, members: [...day.members, inRun] })),
      }).join(),
    ).toMatch(/entered and is competent/);
    const again = problem.items.findIndex((item) => item.again);
    const shortDay = 5;
    expect(plan.days[shortDay]!.blocks).toHaveLength(1);
    const other = plan.days[shortDay]!.members.find(
      (i) => i !== again && i !== plan.days[shortDay]!.blocks[0],
    )!;
    expect(seen(shortDay, { blocks: [other] })).toMatch(/longest unpractised|worked on again and waits/);
  });
});
