/** What to expect of a run: its time, the chance to beat a target, and where it is better given up. */
import { chooseBaseline } from './baseline.ts';
import type { Constants } from '../core/constants.ts';
import { layOutRoute } from './routeLayout.ts';
import { startOfRun, toTimeDistribution } from './timeDistribution.ts';
import { clamp } from '../core/numbers.ts';
import { chanceUnder, expectedBest, massAndMean, mixDistributions, quantileOf } from './timeStatistics.ts';
import { neverReset, playUnderLine, resetLine } from './resetLine.ts';
import type { LineThresholds } from './resetLine.ts';
import type { ChosenOptions, LandingRateOf } from './runState.ts';
import { planRun } from './runPlan.ts';
import type { RunPlan } from './runPlan.ts';
import type { RouteModel } from '../core/types.ts';
import type { RunnerScenario } from './runnerScenarios.ts';

export interface OddsInput {
  readonly route: RouteModel;
  /** Techniques that may be tried: what is in the run, and any others asked for. */
  readonly tried: ReadonlySet<string>;
  /** Landing rate in a run, 0 to 1: the best single guess (the posterior mean). */
  readonly rateOf: LandingRateOf;
  /** The same as several possible runners; left out, `rateOf` is taken as known. */
  readonly scenarios?: readonly RunnerScenario[];
  /** Time to beat, seconds; null where there is none. */
  readonly target: number | null;
  readonly constants: Constants;
  /** Seconds between grid points; 0.1 where left out. */
  readonly step?: number;
}

export interface Odds {
  /** Expected final time of a finished run that is never given up, seconds. */
  readonly finalTime: number;
  /** Clock seconds for each such finish, restarts and the runs that ended early included; null where none finishes. */
  readonly clockPerFinish: number | null;
  /** Chance that a run started and never given up is finished. */
  readonly finishChance: number;
  readonly target: number | null;
  /** Chance that a run started and never given up beats the target; null without one. */
  readonly chance: number | null;
  /** Final times, seconds, that 10, 50 and 90 % of the finished runs stay under. */
  readonly quantiles: { readonly p10: number; readonly p50: number; readonly p90: number };
  /** Beaten targets an hour of clock under the reset line, and never resetting; null without a target. */
  readonly perHour: { readonly line: number; readonly never: number } | null;
  /** Expected best final time, seconds, of so many finished runs (finished, not started). */
  readonly bestAfter: readonly { readonly runs: number; readonly mean: number }[];
  /** For each segment, the time in seconds after which a run is better reset there; null: never. */
  readonly resetLine: readonly { readonly segment: string; readonly time: number | null }[];
  /** Ids of the uses that are tried. */
  readonly uses: readonly string[];
  /** Seconds between the grid points that were used. */
  readonly step: number;
  /** Items, beyond those that can be followed, counted as in hand by chance alone. */
  readonly roughItems: readonly string[];
}

/** Numbers of finished runs for which the expected best is given. */
export const bestAfterRunCounts: readonly number[] = [1, 5, 10, 25, 50, 100];

/** A weighted plan: the run as one possible runner plays it. */
interface WeightedPlan {
  readonly weight: number;
  readonly plan: RunPlan;
}

/** Plans of all possible runners on one grid. */
function plansOf(
  input: OddsInput,
  planAt: (rateOf: LandingRateOf, step?: number) => RunPlan,
  middle: RunPlan,
): WeightedPlan[] {
  if (input.scenarios === undefined || input.scenarios.length === 0) return [{ weight: 1, plan: middle }];
  const plans = input.scenarios.map(({ weight, rateOf }) => ({
    weight,
    rateOf,
    plan: planAt(rateOf, middle.step),
  }));
  const step = plans.reduce((most, { plan }) => Math.max(most, plan.step), middle.step);
  return plans.map(({ weight, rateOf, plan }) => ({
    weight,
    plan: plan.step === step ? plan : planAt(rateOf, step),
  }));
}

/** All plans under one line: success and clock of a run started, and the final times where the line never resets. */
function playPlans(plans: readonly WeightedPlan[], line: LineThresholds, target: number) {
  let success = 0;
  let clock = 0;
  const times = plans.map(({ weight, plan }) => {
    const played = playUnderLine(plan, line, target);
    success += weight * played.success;
    clock += weight * played.clock;
    return { weight, played, times: toTimeDistribution(played.stages.at(-1) ?? startOfRun, plan) };
  });
  return { success, clock, times };
}

/**
 * The odds of a run. Of the techniques that may be tried, each is used where that lowers V at its rate, and in one
 * spot only the best, as everywhere in the model.
 *
 * Landing rates are uncertain. With `scenarios`, which uses are tried and where the line runs is settled at the single
 * best guess, as a runner has to; every chance, quantile and rate is then the average over the possible runners, each
 * keeping to that. So a common doubt about the runner widens the distribution, as it should: runs are not
 * independent of one another, and `bestAfter` is the average of each possible runner's own. Without `scenarios` the
 * rates count as known.
 */
export function computeOdds(input: OddsInput): Odds {
  const { route, tried, rateOf, constants } = input;
  const layout = layOutRoute(route);
  const known: LandingRateOf = (technique) => (tried.has(technique) ? clamp(rateOf(technique), 0, 1) : 0);
  const { played } = chooseBaseline(layout, (technique) => tried.has(technique), known, constants);
  const planAt = (rates: LandingRateOf, step?: number): RunPlan =>
    planRun(route, layout, { played, rateOf: rates }, step).plan;
  const middle = planAt(known, input.step);
  const plans = plansOf(input, planAt, middle);
  const { step, roughItems } = middle;

  const target = usableTarget(input.target);
  const open = playPlans(plans, neverReset(middle), target ?? 0);
  const times = mixDistributions(open.times) ?? toTimeDistribution(startOfRun, middle);
  const { mass, mean } = massAndMean(times);
  const bests = bestAfterRunCounts.map((runs) => {
    // Each possible runner's own best, weighted by how often it is they who finish.
    const sum = open.times.reduce((all, { weight, times: own }) => {
      return all + weight * massAndMean(own).mass * expectedBest(own, runs);
    }, 0);
    return { runs, mean: mass > 0 ? sum / mass : mean };
  });
  return {
    finalTime: mean,
    clockPerFinish: mass > 0 ? open.clock / mass : null,
    finishChance: Math.min(1, mass),
    target,
    chance: target === null ? null : Math.min(1, chanceUnder(times, target)),
    quantiles: { p10: quantileOf(times, 0.1), p50: quantileOf(times, 0.5), p90: quantileOf(times, 0.9) },
    ...chooseResetLine(middle, plans, open, target),
    bestAfter: bests,
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

/** The line at the best single guess, kept only where it is no worse over all possible runners. */
function chooseResetLine(
  middle: RunPlan,
  plans: readonly WeightedPlan[],
  open: ReturnType<typeof playPlans>,
  target: number | null,
): Pick<Odds, 'perHour' | 'resetLine'> {
  const rows = (times: readonly (number | null)[]) =>
    middle.segments.map(({ id }, s) => ({ segment: id, time: times[s] ?? null }));
  if (target === null) return { perHour: null, resetLine: rows([]) };
  const hourly = ({ success, clock }: { success: number; clock: number }): number =>
    clock > 0 ? (3600 * success) / clock : 0;
  const never = hourly(open);
  const alone = plans.length === 1 && plans[0]?.plan === middle;
  const { line, times, perHour } = resetLine(middle, target, alone ? open.times[0]?.played : undefined);
  const kept = alone ? perHour.line : hourly(playPlans(plans, line, target));
  if (kept < never) return { perHour: { line: never, never }, resetLine: rows([]) };
  return { perHour: { line: kept, never }, resetLine: rows(times) };
}
