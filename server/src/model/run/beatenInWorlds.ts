/** How often a target is beaten in each possible world, at any levels of practice. */
import type { Steps } from '../../incremental/steps.ts';
import { mapInSteps } from '../../incremental/steps.ts';
import { MemoCache } from '../../incremental/memoCache.ts';
import { practiceLogits } from '../skill/rateEstimates.ts';
import { clamp } from '../core/numbers.ts';
import type { RouteModel } from '../core/types.ts';
import { coarseStep } from './bestOfRuns.ts';
import { persistentWorlds } from './persistentWorlds.ts';
import type { PersistentWorld } from './persistentWorlds.ts';
import type { PreparedModel } from './preparedModel.ts';
import { beatenPerSecond, neverReset, playUnderLine, resetLineInSteps } from './resetLine.ts';
import type { LineThresholds } from './resetLine.ts';
import type { RunPlan } from './runPlan.ts';
import { dayForms, formOfRunnerInSteps, ratesOnForms } from './formOfRuns.ts';
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

/** How often a target is beaten, in beaten targets per hour of clock time, restarts included. */
export interface BeatenPerHour {
  /** The weight of each form that a day may have. */
  readonly weights: readonly number[];
  /** For each form, the number in each of the equally likely worlds. */
  readonly byForm: readonly Float64Array[];
}

/**
 * Beaten targets per hour in each world, on a day of each form. The techniques tried and the reset line are chosen at the mean
 * rates, because the runner does not know which world is the true one; the line is kept where it beats the target more often
 * over all worlds.
 *
 * @param extra ids of techniques that may be tried besides those in the run; the same ids give the same worlds
 * @param target seconds
 */
export function* beatenPerHourInWorlds(
  prepared: PreparedModel,
  route: RouteModel,
  extra: readonly string[],
  target: number,
): Steps<BeatenPerHour> {
  const means = meanRatesInRuns(prepared, extra);
  const meanRateOf: LandingRateOf = (technique) => means.get(technique) ?? 0;
  const { layout, constants } = prepared;
  const { planAt } = createRunPlanner({ route, layout }, means, meanRateOf, constants);
  const step = coarseStep(finalTimeDistribution(planAt(meanRateOf)));
  const bestGuess = planAt(meanRateOf, step);
  const scenarios = runnerScenarios(prepared, means);
  const worlds: readonly Pick<PersistentWorld, 'rateOf' | 'deviationOf'>[] = persistentWorlds(
    prepared,
    route,
    means,
    scenarios,
  );
  const plans =
    worlds.length === 0
      ? [bestGuess]
      : yield* mapInSteps(worlds, ({ rateOf, deviationOf }) => planAt(rateOf, step, deviationOf));
  const { line } = yield* resetLineInSteps(bestGuess, target);
  const open = yield* hourly(plans, neverReset(bestGuess), target);
  const resets = line.some((threshold) => threshold !== Infinity);
  const withLine = resets ? yield* hourly(plans, line, target) : open;
  const better = mean(withLine) > mean(open);
  const [usual, under] = better ? [withLine, line] : [open, neverReset(bestGuess)];
  const forms = dayForms(yield* formOfRunnerInSteps(prepared));
  if (forms.length === 1) return { weights: [1], byForm: [usual] };
  const chosen = someWorlds(usual);
  const byForm = yield* mapInSteps(forms, (_, f) =>
    onForm(
      usual,
      chosen.map((w) => {
        const { rateOf, deviationOf } = worlds[w] ?? { rateOf: meanRateOf, deviationOf: undefined };
        const plan = planAt(ratesOnForms(rateOf, forms)[f]!, step, deviationOf);
        return { usual: usual[w]!, onForm: perHour(plan, under, target) };
      }),
    ),
  );
  return { weights: forms.map(({ weight }) => weight), byForm };
}

/** In so many worlds it is worked out what a form does to the number of beaten targets. */
const workedOut = 8;

/** The numbers of some worlds, from the one that beats the target least often to the one that beats it most often. */
function someWorlds(usual: Float64Array): number[] {
  const sorted = [...usual.keys()]
    .filter((w) => usual[w]! > 0)
    .sort((a, b) => usual[a]! - usual[b]! || a - b);
  const last = sorted.length - 1;
  const places = Array.from({ length: workedOut }, (_, i) => Math.round((i * last) / (workedOut - 1)));
  return last < 0 ? [] : [...new Set(places)].map((place) => sorted[place]!);
}

/**
 * Beaten targets per hour of all worlds on a day of one form. By how much a form multiplies the number follows from the number
 * itself nearly, so the other worlds' factors are interpolated: the logarithm of the factor over that of the number.
 *
 * @param known worlds in which it was worked out, by rising number on a usual day
 */
function onForm(
  usual: Float64Array,
  known: readonly { readonly usual: number; readonly onForm: number }[],
): Float64Array {
  const points = known.map((one) => ({
    at: Math.log(one.usual),
    log: Math.log(Math.max(one.onForm, leastPerHour) / Math.max(one.usual, leastPerHour)),
  }));
  return usual.map((number) => {
    if (!(number > 0) || points.length === 0) return number;
    const at = Math.log(number);
    const above = points.findIndex((point) => point.at >= at);
    const [low, high] = [points[Math.max(0, above - 1)]!, points[above] ?? points.at(-1)!];
    const t = high.at > low.at ? clamp((at - low.at) / (high.at - low.at), 0, 1) : 0;
    return number * Math.exp(low.log + t * (high.log - low.log));
  });
}

/** Fewer beaten targets per hour than this are none. */
const leastPerHour = 1e-12;

function perHour(plan: RunPlan, line: LineThresholds, target: number): number {
  return 3600 * beatenPerSecond(playUnderLine(plan, line, target));
}

function* hourly(plans: readonly RunPlan[], line: LineThresholds, target: number): Steps<Float64Array> {
  return Float64Array.from(yield* mapInSteps(plans, (plan) => perHour(plan, line, target)));
}

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
