import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createPlanSimulator } from '../../../../server/src/model/week/planSimulator.ts';
import { bestPlan } from '../../../../server/src/model/week/planWeek.ts';
import { possibleSetSizes } from '../../../../server/src/model/week/sessions.ts';
import { inventWeek } from '../../../helpers/weekProblems.ts';
import { brokenRules } from '../../../helpers/weekRules.ts';

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
  carried: fc.integer({ min: 0, max: 3 }),
  pinned: fc.integer({ min: 0, max: 2 }),
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

  it('nobody leaves on the morning of entering: the one who leaves was practised, the one who came is in', () => {
    fc.assert(
      fc.property(week, fc.infiniteStream(fc.nat()), ({ seed, ...given }, shuffle) => {
        const problem = inventWeek(seed, given);
        const keys = problem.items.map((_, i) => [shuffle.next().value ?? 0, i] as const);
        const order = keys.sort((a, b) => a[0] - b[0] || a[1] - b[1]).map(([, i]) => i);
        const [size] = sizesOf(problem);
        if (size === undefined) return;
        const { days } = createPlanSimulator(problem).plan(order, size, 'order');
        days.forEach(({ left, members }, d) => {
          const before = days.slice(0, d).findLast(({ blocks }) => blocks.length > 0)?.members;
          for (const { item, replacedBy } of left) {
            expect(before?.includes(item) ?? problem.items[item]!.inSetAtStart).toBe(true);
            expect(members).toContain(replacedBy);
            expect(members).not.toContain(item);
          }
        });
      }),
      { numRuns: 60 },
    );
  });

  it('a broken rule is seen', () => {
    const problem = inventWeek(3, { techniques: 8, days: 7, minutes: [100, 100, 100, 0, 100, 0, 0] });
    const plan = createPlanSimulator(problem).plan([0, 1, 2, 3, 4, 5, 6, 7], 4);
    const [first, ...rest] = plan.days;
    const changed = (day: Partial<typeof first>) => ({ ...plan, days: [{ ...first!, ...day }, ...rest] });
    const longer = brokenRules(problem, changed({ length: 31 }));
    expect(longer).toContain('day 0: blocks of 31');
    expect(longer).toContain('day 0: longer than the day');
    const one = first!.blocks[0]!;
    expect(brokenRules(problem, changed({ blocks: [one, one, one, one] }))).toContain(
      `day 0: 80 minutes of ${problem.items[one]!.id}`,
    );
    const outsider = problem.items.findIndex((_, i) => !first!.members.includes(i));
    expect(brokenRules(problem, changed({ blocks: [outsider] })).join()).toMatch(/is not in the set/);
    const weakest = [7, 6, 5, 4];
    expect(brokenRules(problem, changed({ members: weakest, blocks: weakest })).join()).toMatch(
      /stays though t\d\d waits/,
    );
    expect(brokenRules(problem, changed({ members: [0, 1], blocks: [0, 1] })).join()).toMatch(
      /waits beside a free place/,
    );
    const leaving = plan.days.findIndex(({ left }, d) => d > 0 && left.length > 0);
    const gone = plan.days[leaving]!.left[0]!;
    const back = plan.days.map((day, d) =>
      d === leaving ? { ...day, members: [...day.members, gone.item] } : day,
    );
    expect(brokenRules(problem, { ...plan, days: back }).join()).toMatch(/is back within a week/);
    expect(brokenRules(problem, { ...plan, size: 2 }).join()).toMatch(/too large a set/);
    const later = plan.days.findIndex((day, d) => d > 0 && day.blocks.length > 0);
    const dropped = plan.days.map((day, d) =>
      d === later ? { ...day, members: day.members.slice(1), left: [] } : day,
    );
    expect(brokenRules(problem, { ...plan, days: dropped }).join()).toMatch(/without a reason/);
  });
});
