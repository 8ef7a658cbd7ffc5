import { describe, expect, test } from 'vitest';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { beatenPerHourInWorlds } from '../../../../server/src/model/run/beatenInWorlds.ts';
import { coarseStep } from '../../../../server/src/model/run/bestOfRuns.ts';
import { dayForms, formOfRunnerInSteps, ratesOnForms } from '../../../../server/src/model/run/formOfRuns.ts';
import { persistentWorlds } from '../../../../server/src/model/run/persistentWorlds.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import type { RankInput } from '../../../../server/src/model/run/preparedModel.ts';
import {
  beatenPerSecond,
  neverReset,
  playUnderLine,
  resetLine,
} from '../../../../server/src/model/run/resetLine.ts';
import { createRunPlanner, meanRatesInRuns } from '../../../../server/src/model/run/runPlanner.ts';
import { runnerScenarios } from '../../../../server/src/model/run/runnerScenarios.ts';
import { finalTimeDistribution } from '../../../../server/src/model/run/timeDistribution.ts';
import { block, plainOptions, route, segment, technique, use } from '../../../helpers/invented.ts';

const ids = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];

function inputOf(days: number, formSd: number): RankInput {
  const practice = ids.flatMap((id, i) =>
    Array.from({ length: days }, (_, day) => block(id, day, 9 + 2 * (i % 4) + 2 * day, 30)),
  );
  return {
    route: route(
      ids.map((id, i) => segment(`s-${id}`, 60, [use(id, 4 + (i % 3), 1)])),
      ids.map((id) => technique(id, { state: 'in-run' })),
    ),
    logs: { practice, runs: [] },
    asOfDay: days,
    options: plainOptions,
    constants: { formSd },
  };
}

/** The same with every world played on a day of each form. */
function played(input: RankInput, target: number): readonly (readonly number[])[] {
  const prepared = prepareModel(input);
  const means = meanRatesInRuns(prepared, []);
  const meanRateOf = (id: string): number => means.get(id) ?? 0;
  const { layout, constants } = prepared;
  const { planAt } = createRunPlanner({ route: input.route, layout }, means, meanRateOf, constants);
  const step = coarseStep(finalTimeDistribution(planAt(meanRateOf)));
  const bestGuess = planAt(meanRateOf, step);
  const worlds = persistentWorlds(prepared, input.route, means, runnerScenarios(prepared, means));
  const forms = dayForms(runToCompletion(formOfRunnerInSteps(prepared)));
  const under = (line: readonly number[]): number[][] =>
    forms.map((_, f) =>
      worlds.map(({ rateOf, deviationOf }) => {
        const plan = planAt(ratesOnForms(rateOf, forms)[f]!, step, deviationOf);
        return 3600 * beatenPerSecond(playUnderLine(plan, line, target));
      }),
    );
  const usual = (list: number[][]): number => list[1]!.reduce((a, b) => a + b, 0);
  const [open, withLine] = [under(neverReset(bestGuess)), under(resetLine(bestGuess, target).line)];
  return usual(withLine) > usual(open) ? withLine : open;
}

const meanOf = (values: ArrayLike<number>): number =>
  Array.from(values).reduce((a, b) => a + b, 0) / values.length;

describe('beaten targets per hour on a day of each form', () => {
  test.each([
    ['nothing logged, a usual target', 0, 470],
    ['nothing logged, a target far away', 0, 452],
    ['logs', 3, 455],
  ])('%s: about those of playing every world', (_, days, target) => {
    const input = inputOf(days, 0.5);
    const { weights, byForm } = runToCompletion(
      beatenPerHourInWorlds(prepareModel(input), input.route, [], target),
    );
    const all = played(input, target);
    expect(weights).toHaveLength(3);
    expect(byForm).toHaveLength(3);
    byForm.forEach((worlds, f) => {
      expect(Math.abs(Math.log(meanOf(worlds) / meanOf(all[f]!)))).toBeLessThan(0.12);
    });
    // The form makes a difference that is much greater than that.
    expect(meanOf(byForm[2]!)).toBeGreaterThan(1.15 * meanOf(byForm[1]!));
    expect(meanOf(byForm[0]!)).toBeLessThan(0.85 * meanOf(byForm[1]!));
  });

  test('without form there is one, and a target that nobody beats stays unbeaten', () => {
    const { weights } = runToCompletion(
      beatenPerHourInWorlds(prepareModel(inputOf(2, 0)), inputOf(2, 0).route, [], 470),
    );
    expect(weights).toEqual([1]);
    const input = inputOf(2, 0.5);
    const { byForm } = runToCompletion(beatenPerHourInWorlds(prepareModel(input), input.route, [], 10));
    for (const worlds of byForm) expect([...worlds].every((perHour) => perHour === 0)).toBe(true);
  });
});
