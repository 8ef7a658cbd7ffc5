/** What to expect of a run: its time, the chance to beat a target, and the times after which a reset is better. */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { Constants } from '../core/constants.ts';
import { layOutRoute } from './routeLayout.ts';
import { startOfRun, toTimeDistribution } from './timeDistribution.ts';
import { chanceUnder, massAndMean, mixDistributions, quantileOf } from './timeStatistics.ts';
import { neverReset, resetLineInSteps } from './resetLine.ts';
import type { ChosenOptions } from './playSegments.ts';
import type { DeviationOf } from './outcomes.ts';
import type { LandingRateOf } from './runState.ts';
import type { RunPlan } from './runPlan.ts';
import { createRunPlanner } from './runPlanner.ts';
import { byRunner, plansOf, playPlans } from './playedPlans.ts';
import type { PlayedPlans, WeightedPlan } from './playedPlans.ts';
import { lastingEffect, meanBests, withoutDays } from './bestOfRuns.ts';
import { finishedPerDay } from './bestOverDays.ts';
import { formInRuns } from './formInRuns.ts';
import type { FormInRuns } from './formInRuns.ts';
import { dayForms, formsOfWorlds, ratesOnForms, usualForm } from './formOfRuns.ts';
import type { DayForm } from './formOfRuns.ts';
import type { PersistentWorld } from './persistentWorlds.ts';
import type { RouteModel } from '../core/types.ts';
import type { FormOfDay } from '../skill/formOfDay.ts';
import type { RunnerScenario } from './runnerScenarios.ts';

export interface OddsInput {
  readonly route: RouteModel;
  /** Techniques that may be tried: those in the run and any others that the caller adds. */
  readonly tried: ReadonlySet<string>;
  /** Landing rate in a run, 0 to 1: the best single guess (the posterior mean). */
  readonly rateOf: LandingRateOf;
  /** Several possible runners, each with other landing rates. If omitted, `rateOf` is taken as certain. */
  readonly scenarios?: readonly Pick<RunnerScenario, 'weight' | 'rateOf'>[];
  /** Possible answers to everything that is doubted, the same over many runs; for the expected best of several. */
  readonly worlds?: readonly PersistentWorld[];
  /** How much the form of the day differs from day to day; all days are alike if omitted. */
  readonly form?: FormOfDay;
  /** Minutes of runs on a day with runs, restarts and failed runs included; two hours if omitted. */
  readonly runMinutesPerDay?: number;
  /** Time to beat, seconds; null where there is none. */
  readonly target: number | null;
  readonly constants: Constants;
  /** Seconds between grid points; 0.1 if omitted. */
  readonly step?: number;
}

export interface Odds {
  /** Expected final time of a finished run without resets, seconds. */
  readonly finalTime: number;
  /** Clock seconds per finished run, including restarts and the runs that ended early; null if no run finishes. */
  readonly clockPerFinish: number | null;
  /** Chance that a run started and never reset is finished. */
  readonly finishChance: number;
  readonly target: number | null;
  /** Chance that a run started and never reset beats the target; null without a target. */
  readonly chance: number | null;
  /** 10 %, 50 % and 90 % quantiles of the final time of finished runs, seconds. */
  readonly quantiles: { readonly p10: number; readonly p50: number; readonly p90: number };
  /** Beaten targets per hour of clock time: with the reset line, and without any reset; null without a target. */
  readonly perHour: { readonly line: number; readonly never: number } | null;
  /** Expected best final time, seconds, of a number of finished runs (finished, not started). */
  readonly bestAfter: readonly { readonly runs: number; readonly mean: number }[];
  /** What the form of the day does to the runs; null where all days are alike. */
  readonly form: FormInRuns | null;
  /** For each segment, the run time in seconds above which a reset after it is better; null: never. */
  readonly resetLine: readonly { readonly segment: string; readonly time: number | null }[];
  /** Ids of the uses that are tried. */
  readonly uses: readonly string[];
  /** Seconds between the grid points that were used. */
  readonly step: number;
  /** Items beyond the number that can be tracked exactly; they count as held with an independent chance. */
  readonly roughItems: readonly string[];
}

/** Numbers of finished runs for which the expected best is given. */
export const bestAfterRunCounts: readonly number[] = [1, 5, 10, 25, 50, 100];

/**
 * The odds of a run. As everywhere in the model, each technique that may be tried is used where that lowers V at
 * its landing rate, and of each spot only the best option.
 *
 * Landing rates are uncertain. With `scenarios`, the uses that are tried and the reset line are chosen at the
 * single best guess, because a runner has to decide without knowing the true rates. Every chance, quantile and rate
 * is then the average over the possible runners, all of whom play by these decisions. What is uncertain about the
 * runner therefore widens the distribution: it affects all runs in the same way, so runs are not independent, and
 * `bestAfter` is the average of each possible runner's own value. Without `scenarios` the rates are taken as
 * certain. With `worlds`, `bestAfter` also takes in that the doubt about each technique, and about the seconds that
 * it saves, lasts over all runs. With `form`, days differ for all techniques together: every chance, quantile and rate
 * is the average over the forms that a day may have, too, and in `bestAfter` the runs of one day have the same form.
 */
export const computeOdds = inOneGo(computeOddsInSteps);

/** The same in steps, the longest of them one plan that is played, or one reset line. */
export function* computeOddsInSteps(input: OddsInput): Steps<Odds> {
  const { route, tried, rateOf, constants } = input;
  const layout = layOutRoute(route);
  const { played, planAt } = createRunPlanner({ route, layout }, tried, rateOf, constants);
  const bestGuess = planAt(rateOf, input.step);
  const forms = input.form === undefined ? usualForm : dayForms(input.form);
  const plans = yield* plansOf(input, forms, planAt, bestGuess);
  const { step, roughItems } = bestGuess;

  const target = usableTarget(input.target);
  const open = yield* playPlans(plans, neverReset(bestGuess), target ?? 0);
  const times = mixDistributions(open.times) ?? toTimeDistribution(startOfRun, bestGuess);
  const { mass, mean } = massAndMean(times);
  const clockPerFinish = mass > 0 ? open.clock / mass : null;
  const perDay = finishedPerDay(clockPerFinish, input.runMinutesPerDay);
  const runners = byRunner(open.times, forms);
  const { worlds = [], scenarios = [] } = input;
  const doubted = worlds.length > 0;
  const bests =
    mass > 0
      ? meanBests(doubted ? runners.map(withoutDays) : runners, bestAfterRunCounts, perDay)
      : bestAfterRunCounts.map(() => mean);
  if (mass > 0 && doubted) {
    const onDays = input.form === undefined ? undefined : formsOfWorlds(input.form, worlds.length);
    const planned = (
      days: readonly DayForm[],
      own: LandingRateOf,
      width: number,
      deviationOf?: DeviationOf,
    ) =>
      ratesOnForms(own, days).map((onDay, f) => ({
        weight: days[f]!.weight,
        plan: planAt(onDay, width, deviationOf),
      }));
    const effect = yield* lastingEffect(worlds, times, bestAfterRunCounts, perDay, {
      world: (world, w, width) => planned(onDays?.[w] ?? usualForm, world.rateOf, width, world.deviationOf),
      scenario: (n, width) => planned(forms, scenarios[n]?.rateOf ?? rateOf, width),
    });
    effect.forEach((seconds, i) => (bests[i]! += seconds));
  }
  return {
    finalTime: mean,
    clockPerFinish,
    finishChance: Math.min(1, mass),
    target,
    chance: target === null ? null : Math.min(1, chanceUnder(times, target)),
    quantiles: { p10: quantileOf(times, 0.1), p50: quantileOf(times, 0.5), p90: quantileOf(times, 0.9) },
    ...(yield* chooseResetLine(bestGuess, plans, open, target)),
    bestAfter: bestAfterRunCounts.map((runs, i) => ({ runs, mean: bests[i]! })),
    form: input.form === undefined || mass === 0 ? null : formInRuns(input.form, forms, open.times, perDay),
    uses: usesOf(layout, played),
    step,
    roughItems,
  };
}

function usableTarget(target: number | null): number | null {
  return target !== null && Number.isFinite(target) ? target : null;
}

function usesOf(layout: ReturnType<typeof layOutRoute>, played: ChosenOptions): string[] {
  return layout.choices.flatMap((choice, c) => choice.options[played[c]!]?.use.id ?? []);
}

/**
 * The reset line at the single best guess. It is used only if it is not worse than never resetting, averaged over
 * all possible runners.
 */
function* chooseResetLine(
  bestGuess: RunPlan,
  plans: readonly WeightedPlan[],
  open: PlayedPlans,
  target: number | null,
): Steps<Pick<Odds, 'perHour' | 'resetLine'>> {
  const rows = (times: readonly (number | null)[]) =>
    bestGuess.segments.map(({ id }, s) => ({ segment: id, time: times[s] ?? null }));
  if (target === null) return { perHour: null, resetLine: rows([]) };
  const hourly = ({ success, clock }: { success: number; clock: number }): number =>
    clock > 0 ? (3600 * success) / clock : 0;
  const never = hourly(open);
  const alone = plans.length === 1 && plans[0]?.plan === bestGuess;
  const { line, times, perHour } = yield* resetLineInSteps(
    bestGuess,
    target,
    alone ? open.times[0]?.played : undefined,
  );
  const kept = alone ? perHour.line : hourly(yield* playPlans(plans, line, target));
  if (kept < never) return { perHour: { line: never, never }, resetLine: rows([]) };
  return { perHour: { line: kept, never }, resetLine: rows(times) };
}
