/** Plays the run as every possible runner plays it, on a day of each form. */
import { mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { RunnerTimes } from './bestOfRuns.ts';
import { ratesOnForms } from './formOfRuns.ts';
import type { DayForm } from './formOfRuns.ts';
import { playUnderLine } from './resetLine.ts';
import type { LineOutcome, LineThresholds } from './resetLine.ts';
import type { RunPlan } from './runPlan.ts';
import type { RunPlanner } from './runPlanner.ts';
import type { LandingRateOf } from './runState.ts';
import { startOfRun, toTimeDistribution } from './timeDistribution.ts';
import type { TimeDistribution } from './timeDistribution.ts';

/** The possible runners; none are listed where the rates are taken as certain. */
export interface PossibleRunners {
  readonly rateOf: LandingRateOf;
  readonly scenarios?: readonly { readonly weight: number; readonly rateOf: LandingRateOf }[];
}

/** A weighted plan: the run as one possible runner plays it on a day of one form. */
export interface WeightedPlan {
  readonly weight: number;
  readonly plan: RunPlan;
  /** Numbers of the runner and of the form. */
  readonly runner: number;
  readonly form: number;
}

/** The plans of all possible runners on days of each form, on one common grid. */
export function* plansOf(
  input: PossibleRunners,
  forms: readonly DayForm[],
  planAt: RunPlanner['planAt'],
  bestGuess: RunPlan,
): Steps<WeightedPlan[]> {
  const possible = input.scenarios ?? [];
  const certain = possible.length === 0;
  const scenarios = certain ? [{ weight: 1, rateOf: input.rateOf }] : possible;
  const rated = scenarios.flatMap(({ weight, rateOf }, runner) =>
    ratesOnForms(rateOf, forms).map((own, form) => ({
      weight: weight * forms[form]!.weight,
      rateOf: own,
      ...{ runner, form },
    })),
  );
  if (certain && rated.length === 1) return [{ weight: 1, plan: bestGuess, runner: 0, form: 0 }];
  const plans = yield* mapInSteps(rated, (own) => ({ ...own, plan: planAt(own.rateOf, bestGuess.step) }));
  const step = plans.reduce((most, { plan }) => Math.max(most, plan.step), bestGuess.step);
  return yield* mapInSteps(plans, ({ rateOf, ...own }) => ({
    ...own,
    plan: own.plan.step === step ? own.plan : planAt(rateOf, step),
  }));
}

/** The final times of each runner, on days of each form. */
export function byRunner(played: PlayedPlans['times'], forms: readonly DayForm[]): RunnerTimes[] {
  const runners: { weight: number; byForm: { weight: number; times: TimeDistribution }[] }[] = [];
  for (const { weight, times, runner, form } of played) {
    const own = (runners[runner] ??= { weight: 0, byForm: [] });
    own.weight += weight;
    own.byForm.push({ weight: forms[form]!.weight, times });
  }
  return runners;
}

export interface PlayedPlans {
  readonly success: number;
  readonly clock: number;
  readonly times: readonly {
    readonly weight: number;
    readonly runner: number;
    readonly form: number;
    readonly played: LineOutcome;
    readonly times: TimeDistribution;
  }[];
}

/**
 * Plays all plans under one reset line: mean success and clock time of a started run, and the final times of each
 * plan.
 */
export function* playPlans(
  plans: readonly WeightedPlan[],
  line: LineThresholds,
  target: number,
): Steps<PlayedPlans> {
  let success = 0;
  let clock = 0;
  const times = yield* mapInSteps(plans, ({ weight, plan, ...of }) => {
    const played = playUnderLine(plan, line, target);
    success += weight * played.success;
    clock += weight * played.clock;
    return { weight, ...of, played, times: toTimeDistribution(played.stages.at(-1) ?? startOfRun, plan) };
  });
  return { success, clock, times };
}
