/** How often a target is beaten in each possible world, at any levels of practice. */
import type { Steps } from '../../incremental/steps.ts';
import { mapInSteps } from '../../incremental/steps.ts';
import { MemoCache } from '../../incremental/memoCache.ts';
import { practiceLogits } from '../skill/rateEstimates.ts';
import type { RouteModel } from '../core/types.ts';
import { coarseStep } from './bestOfRuns.ts';
import { persistentWorlds } from './persistentWorlds.ts';
import type { PreparedModel } from './preparedModel.ts';
import { beatenPerSecond, neverReset, playUnderLine, resetLineInSteps } from './resetLine.ts';
import type { LineThresholds } from './resetLine.ts';
import type { RunPlan } from './runPlan.ts';
import { createRunPlanner, meanRatesInRuns } from './runPlanner.ts';
import { runnerScenarios } from './runnerScenarios.ts';
import type { LandingRateOf } from './runState.ts';
import { finalTimeDistribution } from './timeDistribution.ts';

/**
 * The model as it will be when some techniques have reached other levels of practice. What is believed of each curve
 * stays as it is: practice that is still to come tells nothing yet.
 *
 * @param levels level of practice, ln(1 + E/unit), by id; techniques that are not named keep theirs
 */
export function atLevels(prepared: PreparedModel, levels: ReadonlyMap<string, number>): PreparedModel {
  const fittedTechniques = new Map(prepared.fittedTechniques);
  for (const [id, level] of levels) {
    const fitted = fittedTechniques.get(id);
    if (fitted === undefined) continue;
    fittedTechniques.set(id, {
      ...fitted,
      levelNow: level,
      logitsNow: practiceLogits(fitted.posterior, level),
      memory: new MemoCache(),
    });
  }
  return { ...prepared, fittedTechniques };
}

/**
 * Beaten targets per hour of clock time, restarts included, in each of the equally likely worlds. The techniques tried
 * and the reset line are chosen at the mean rates, because the runner does not know which world is the true one; the
 * line is kept where it beats the target more often over all worlds.
 *
 * @param extra ids of techniques that may be tried besides those in the run; the same ids give the same worlds
 * @param target seconds
 */
export function* beatenPerHourInWorlds(
  prepared: PreparedModel,
  route: RouteModel,
  extra: readonly string[],
  target: number,
): Steps<Float64Array> {
  const means = meanRatesInRuns(prepared, extra);
  const meanRateOf: LandingRateOf = (technique) => means.get(technique) ?? 0;
  const { layout, constants } = prepared;
  const { planAt } = createRunPlanner({ route, layout }, means, meanRateOf, constants);
  const step = coarseStep(finalTimeDistribution(planAt(meanRateOf)));
  const bestGuess = planAt(meanRateOf, step);
  const scenarios = runnerScenarios(prepared, means);
  const worlds = persistentWorlds(prepared, route, means, scenarios);
  const plans =
    worlds.length === 0
      ? [bestGuess]
      : yield* mapInSteps(worlds, ({ rateOf, deviationOf }) => planAt(rateOf, step, deviationOf));
  const never = neverReset(bestGuess);
  const { line } = yield* resetLineInSteps(bestGuess, target);
  const open = yield* hourly(plans, never, target);
  if (line.every((threshold) => threshold === Infinity)) return open;
  const withLine = yield* hourly(plans, line, target);
  return mean(withLine) > mean(open) ? withLine : open;
}

function* hourly(plans: readonly RunPlan[], line: LineThresholds, target: number): Steps<Float64Array> {
  return Float64Array.from(
    yield* mapInSteps(plans, (plan) => 3600 * beatenPerSecond(playUnderLine(plan, line, target))),
  );
}

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
