/**
 * Practise or run? With some hours left until a target must be beaten, how many of them to practise first.
 *
 * In a world in which the target is beaten λ(h) times per hour of runs after h hours of practice, D hours beat it at
 * least once with the chance 1 − e^(−λ(h) · (D − h)): runs are independent of each other, given the world. The chance
 * is the mean over the worlds, so what the runner does not know lasts over all runs.
 *
 * Days differ in form. On a day of form f with e hours of runs the target stays unbeaten with the chance Σ w(f) · e^(−λ(f) · e), and each
 * day of runs has a form of its own.
 */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { ModelCache } from '../core/modelCache.ts';
import { clamp, finiteOr } from '../core/numbers.ts';
import { atLevels, beatenPerHourInWorlds } from '../run/beatenInWorlds.ts';
import type { BeatenPerHour } from '../run/beatenInWorlds.ts';
import { usualRunMinutes } from '../run/bestOverDays.ts';
import { prepareModelInSteps } from '../run/preparedModel.ts';
import type { PreparedModel, RankInput } from '../run/preparedModel.ts';
import { applyPractice, levelOnMorning } from '../skill/practiceState.ts';
import { mostHoursLeft } from './hoursLeft.ts';
import type { PlanDay } from './planWeek.ts';

export interface PractiseOrRunQuestion {
  /** Time to beat, seconds. */
  readonly target: number;
  /** Hours left, for practice and runs together; at most {@link mostHoursLeft} count. */
  readonly hours: number;
  /** Techniques that may be tried besides those in the run and those practised. */
  readonly with?: readonly string[];
  /** Minutes of runs on a day with runs; two hours if omitted. */
  readonly runMinutesPerDay?: number | undefined;
}

/** So many hours of practice first, and runs for the rest of the time. */
export interface Split {
  readonly practiceHours: number;
  readonly runHours: number;
  /** Chance that the target is beaten at least once, 0 to 1. */
  readonly chance: number;
}

export interface PractiseOrRun {
  /** Hours left, for practice and runs together. */
  readonly hours: number;
  /** Hours of practice in the plan; more cannot be forecast. */
  readonly planHours: number;
  /** In steps of half an hour from no practice on. */
  readonly splits: readonly Split[];
  readonly best: Split;
  /** Hours of practice whose chance is less than a point below the best, around the best. */
  readonly asGood: { readonly from: number; readonly to: number };
}

/** Hours between two splits. */
const splitStep = 0.5;

/** Chances this close to the best are as good: no forecast is sharper than a point. */
const onePoint = 0.01;

/** Numbers of sessions after which the rates are forecast; between them λ is interpolated linearly. */
const mostForecasts = 8;

/** After some sessions of the plan: hours practised, and the levels of the techniques that were. */
interface Stage {
  readonly hours: number;
  readonly levels: ReadonlyMap<string, number>;
}

/**
 * Compares the ways to divide the hours left between the plan's practice, which comes first, and runs.
 *
 * Techniques that are not practised keep their rates: runs keep them up. Techniques that become worth trying are tried.
 *
 * @param days days of a plan for the same input
 */
export const practiseOrRun = inOneGo(practiseOrRunInSteps);

/** The same in steps. */
export function* practiseOrRunInSteps(
  input: RankInput,
  days: readonly PlanDay[],
  { target, hours: asked, with: extra = [], runMinutesPerDay = usualRunMinutes }: PractiseOrRunQuestion,
  cache?: ModelCache,
): Steps<PractiseOrRun> {
  const hours = clamp(finiteOr(asked, 0), 0, mostHoursLeft);
  const prepared = yield* prepareModelInSteps(input, cache);
  const stages = stagesOf(prepared, days);
  const planHours = stages.at(-1)!.hours;
  const tried = [...stages.at(-1)!.levels.keys(), ...extra];
  const rates: BeatenPerHour[] = [];
  const hoursPerDay = Math.max(1 / 60, finiteOr(runMinutesPerDay, usualRunMinutes) / 60);
  for (const { levels } of stages)
    rates.push(yield* beatenPerHourInWorlds(atLevels(prepared, levels), input.route, tried, target));
  const splits: Split[] = [];
  const most = Math.min(hours, planHours);
  for (let i = 0; ; i++) {
    const practiceHours = Math.min(most, i * splitStep);
    splits.push(splitAt(practiceHours, hours, hoursPerDay, stages, rates));
    if (practiceHours >= most) break;
  }
  const best = splits.reduce((a, b) => (b.chance > a.chance + 1e-12 ? b : a));
  return { hours, planHours, splits, best, asGood: asGoodAround(splits, best) };
}

/** The stages at which rates are forecast: now, and after some of the plan's sessions, the last one among them. */
function stagesOf({ fittedTechniques, constants }: PreparedModel, days: readonly PlanDay[]): Stage[] {
  const states = new Map([...fittedTechniques].map(([id, { history }]) => [id, history.state]));
  const practised = new Set<string>();
  const stages: Stage[] = [{ hours: 0, levels: new Map() }];
  let minutes = 0;
  for (const { day, blocks } of days) {
    for (const { technique, minutes: length } of blocks) {
      const [state, fitted] = [states.get(technique), fittedTechniques.get(technique)];
      if (state === undefined || fitted === undefined) continue;
      const attempts = fitted.history.pace * length;
      states.set(technique, applyPractice(state, day, attempts, length, constants).state);
      practised.add(technique);
      minutes += length;
    }
    if (minutes / 60 === stages.at(-1)!.hours) continue;
    const levels = [...practised].map(
      (id) => [id, levelOnMorning(states.get(id)!, day + 1, constants)] as const,
    );
    stages.push({ hours: minutes / 60, levels: new Map(levels) });
  }
  const last = stages.length - 1;
  const every = Math.max(1, last / mostForecasts);
  const kept = new Set(Array.from({ length: Math.floor(last / every) + 1 }, (_, i) => Math.round(i * every)));
  return stages.filter((_, i) => kept.has(i) || i === last);
}

function splitAt(
  practiceHours: number,
  hours: number,
  hoursPerDay: number,
  stages: readonly Stage[],
  rates: readonly BeatenPerHour[],
): Split {
  const after = Math.max(
    0,
    stages.findIndex((stage) => stage.hours >= practiceHours - 1e-9),
  );
  const before = Math.max(0, after - 1);
  const span = stages[after]!.hours - stages[before]!.hours;
  const t = span > 0 ? (practiceHours - stages[before]!.hours) / span : 0;
  const runHours = hours - practiceHours;
  const [low, high] = [rates[before]!, rates[after]!];
  let chance = 0;
  // All stages have the same worlds, or where nothing is doubted a single one.
  const worlds = low.byForm[0]?.length ?? 0;
  for (let w = 0; w < worlds; w++) {
    const onForms = low.weights.map((weight, f) => {
      const [before, after] = [low.byForm[f]![w]!, high.byForm[f]![w]!];
      return { weight, perHour: before + t * (after - before) };
    });
    chance += beatenWithin(runHours, hoursPerDay, onForms) / worlds;
  }
  return { practiceHours, runHours, chance };
}

/** The chance that the target is beaten in some hours of runs, on days of `hoursPerDay` that each have a form of their own. */
function beatenWithin(
  hours: number,
  hoursPerDay: number,
  forms: readonly { readonly weight: number; readonly perHour: number }[],
): number {
  const [only] = forms;
  if (forms.length === 1 && only !== undefined) return -Math.expm1(-only.perHour * hours);
  // Logarithm of the chance that a day of so many hours does not beat it.
  const unbeaten = (own: number): number =>
    Math.log1p(forms.reduce((sum, { weight, perHour }) => sum + weight * Math.expm1(-perHour * own), 0));
  const days = Math.floor(hours / hoursPerDay + 1e-9);
  const wholeDays = days > 0 ? days * unbeaten(hoursPerDay) : 0;
  return -Math.expm1(wholeDays + unbeaten(Math.max(0, hours - days * hoursPerDay)));
}

function asGoodAround(splits: readonly Split[], best: Split): PractiseOrRun['asGood'] {
  const at = splits.indexOf(best);
  let [from, to] = [at, at];
  while (from > 0 && splits[from - 1]!.chance > best.chance - onePoint) from--;
  while (to < splits.length - 1 && splits[to + 1]!.chance > best.chance - onePoint) to++;
  return { from: splits[from]!.practiceHours, to: splits[to]!.practiceHours };
}
