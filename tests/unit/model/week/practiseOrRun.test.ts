/**
 * How to divide hours between practice and runs. With one technique and no scatter a run beats the target exactly where
 * the technique lands, so the chance is a plain sum over every curve and loss of the posterior. Source: the definition of
 * a Poisson process, the chance of no event in t hours at λ an hour is e^(−λ t) (any textbook of probability).
 */
import { describe, expect, test } from 'vitest';
import { logistic } from '../../../../server/src/model/core/numbers.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import type { RankInput } from '../../../../server/src/model/run/preparedModel.ts';
import { applyPractice, levelOnMorning } from '../../../../server/src/model/skill/practiceState.ts';
import { practiceLogits } from '../../../../server/src/model/skill/rateEstimates.ts';
import { practiseOrRun } from '../../../../server/src/model/week/practiseOrRun.ts';
import type { PlanDay } from '../../../../server/src/model/week/planWeek.ts';
import { block, noLogs, plainOptions, route, segment, technique, use } from '../../../helpers/invented.ts';

const asOfDay = 3;
const saved = 20;
const time = 100;

const input: RankInput = {
  route: route(
    [segment('tower', time, [use('vault', saved, 0)], { spread: 0 })],
    [technique('vault', { difficulty: 4, state: 'in-run' })],
  ),
  logs: { practice: [0, 1, 2].map((day) => block('vault', day, 4 + 3 * day, 60)), runs: [] },
  asOfDay,
  options: plainOptions,
};

/** Two blocks of 30 min on each day. */
function daysOf(count: number): PlanDay[] {
  return Array.from({ length: count }, (_, d) => ({
    day: asOfDay + d,
    set: ['vault'],
    blocks: [1, 2].map(() => ({ technique: 'vault', minutes: 30, rest: 5 })),
    unused: null,
  }));
}

/** The chance to beat the target in some hours of runs after the plan's first days, summed over the whole posterior. */
function summed(days: number, runHours: number): number {
  const { fittedTechniques, constants } = prepareModel(input);
  const { history, posterior } = fittedTechniques.get('vault')!;
  let state = history.state;
  for (const { day, blocks } of daysOf(days))
    for (const { minutes } of blocks)
      state = applyPractice(state, day, history.pace * minutes, minutes, constants).state;
  const level = levelOnMorning(state, asOfDay + days, constants);
  const logits = practiceLogits(posterior, level);
  const { losses, rows, row, weight } = posterior;
  let [total, chance] = [0, 0];
  logits.forEach((logit, i) => {
    for (let j = 0; j < losses.count; j++) {
      const mass = weight[i]! * rows[row[i]! * losses.count + j]!;
      const rate = logistic(logit - losses.from - j * losses.step);
      const perHour = (3600 * rate) / (time + input.route.restart - saved * rate);
      total += mass;
      chance += mass * -Math.expm1(-perHour * runHours);
    }
  });
  return chance / total;
}

const target = time - saved / 2;

describe('practise or run', () => {
  test.each([
    ['now', 0, 0.05],
    ['now', 0, 0.5],
    ['after three days', 3, 0.05],
    ['after three days', 3, 0.3],
  ])('the chance %s (%d, %d h of runs) is the sum over all that is doubted', (_, days, runHours) => {
    const { splits } = practiseOrRun(input, daysOf(3), { target, hours: days + runHours });
    const at = splits.find(({ practiceHours }) => practiceHours === days)!;
    expect(at.runHours).toBeCloseTo(runHours, 9);
    // The runs are followed in some worlds, not in all of the posterior.
    expect(Math.abs(at.chance - summed(days, runHours))).toBeLessThan(0.02);
    // Taking the mean rate as certain would be told apart.
    if (runHours > 0.1) expect(at.chance).toBeLessThan(0.999);
  });

  test('little time goes into runs, and what is about as good lies around the best', () => {
    const out = practiseOrRun(input, daysOf(6), { target, hours: 0.1 });
    expect(out.best.practiceHours).toBe(0);
    const beginner: RankInput = { ...input, logs: noLogs };
    const far = practiseOrRun(beginner, daysOf(6), { target, hours: 6.2 });
    expect(far.planHours).toBe(6);
    for (const { best, asGood, splits } of [out, far]) {
      expect(best.chance).toBe(Math.max(...splits.map(({ chance }) => chance)));
      expect(asGood.from).toBeLessThanOrEqual(best.practiceHours);
      expect(asGood.to).toBeGreaterThanOrEqual(best.practiceHours);
    }
  });

  test('a technique that is not tried yet is counted in once practice makes it pay', () => {
    const hard: RankInput = {
      ...input,
      route: route(
        [segment('tower', time, [use('vault', saved, 15)], { spread: 0 })],
        [technique('vault', { difficulty: 4, state: 'learning' })],
      ),
    };
    const { best, splits } = practiseOrRun(hard, daysOf(8), { target, hours: 9 });
    expect(splits[0]!.chance).toBe(0);
    expect(best.practiceHours).toBeGreaterThan(0);
    expect(best.chance).toBeGreaterThan(0.5);
  });

  test('more hours never make the target less likely', () => {
    const chances = [0, 0.5, 1, 2, 4, 8].map(
      (hours) => practiseOrRun(input, daysOf(6), { target, hours }).best.chance,
    );
    expect([...chances].sort((a, b) => a - b)).toEqual(chances);
    expect(chances[0]).toBe(0);
  });

  test.each([0, -1, NaN, Infinity, 1e300])('%d hours give finite answers', (hours) => {
    for (const days of [0, 2]) {
      const { best, asGood, splits } = practiseOrRun(input, daysOf(days), { target, hours });
      for (const { practiceHours, runHours, chance } of [best, ...splits]) {
        expect([practiceHours, runHours, chance].every(Number.isFinite)).toBe(true);
        expect(chance).toBeGreaterThanOrEqual(0);
        expect(chance).toBeLessThanOrEqual(1);
      }
      expect(asGood.to).toBeLessThanOrEqual(2);
    }
  });

  test.each([[], [asOfDay]])('without practice in the plan there is only one way', (...days) => {
    const plan = days.map((day) => ({ day, set: [], blocks: [], unused: null }));
    const { splits, planHours } = practiseOrRun(input, plan, { target, hours: 3 });
    expect({ planHours, ways: splits.length }).toEqual({ planHours: 0, ways: 1 });
  });

  test('many days of a few runs beat the target more likely than one long day, which has a single form', () => {
    const ids = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];
    const many: RankInput = {
      ...input,
      route: route(
        ids.map((id) => segment(`s-${id}`, 60, [use(id, 4, 1)])),
        ids.map((id) => technique(id, { state: 'in-run' })),
      ),
      logs: {
        practice: ids.flatMap((id) => [0, 1, 2].map((day) => block(id, day, 42 + 4 * day, 60))),
        runs: [],
      },
    };
    const plan = [{ ...daysOf(1)[0]!, blocks: [{ technique: 'a', minutes: 30, rest: 5 }] }];
    const chanceOf = (formSd: number, runMinutesPerDay: number): number =>
      practiseOrRun({ ...many, constants: { formSd } }, plan, { target: 446, hours: 2, runMinutesPerDay })
        .splits[0]!.chance;
    expect(chanceOf(0.5, 5)).toBeGreaterThan(chanceOf(0.5, 1000) + 0.01);
    expect(chanceOf(0, 5)).toBe(chanceOf(0, 1000));
  });
});
