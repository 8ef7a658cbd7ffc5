/**
 * How much the form of the day differs from day to day: on one day all techniques land a bit better, or worse, together.
 *
 * The form is z ~ N(0, spread²) in log odds on every technique of a day, in practice and in runs. Besides it each technique has
 * days of its own (`countLikelihood.ts`). Only days on which several techniques were counted can tell the two apart, so only they
 * count; how much each technique's own days differ is not taken for known, and summed over.
 */
import type { Constants } from '../core/constants.ts';
import type { Estimate } from '../core/types.ts';
import { logSum, weightedQuantile } from '../core/numbers.ts';
import { likelihoodTableStep } from './countLikelihood.ts';
import { CountTables } from './countTables.ts';
import { formLogLikelihood } from './formLikelihood.ts';
import type { FormCount, FormDay } from './formLikelihood.ts';
import { formsOf, placesOn, scaledTable } from './formTables.ts';
import type { ScaledTable } from './formTables.ts';
import { possibleCourses } from './possibleCourses.ts';
import type { ComparedTechnique, PossibleCourses } from './possibleCourses.ts';
import type { DayCount } from './practiceHistory.ts';
import { toShares } from './runnerPosterior.ts';
import { mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';

/** What the logs tell about the form of the day. */
export interface FormOfDay {
  /** Possible standard deviations of the form from day to day in log odds, rising from 0, and their weights; they sum to 1. */
  readonly spreads: Float64Array;
  readonly weights: Float64Array;
  /** Days with counts of several techniques that it rests on. */
  readonly days: number;
}

/** A technique with its counts. */
export interface FormMember extends ComparedTechnique {
  readonly days: readonly DayCount[];
}

/** The last days with counts of several techniques that are compared: enough to know the spread to a tenth of itself. */
const mostDays = 60;

/** Spreads that are compared, as multiples of the prior's; between them the likelihood is interpolated. */
const compared = Array.from({ length: 10 }, (_, k) => k / 3);

/** Finer spreads for each of them. */
const finer = 8;

/** What lies so far below the greatest log likelihood does not count any more. */
const hopeless = 15;

/**
 * How much a technique's own days may differ: multiples of the usual concentration, and their prior weights. The usual one is
 * compared first.
 */
const ownDays: readonly (readonly [factor: number, weight: number])[] = [
  [1, 0.5],
  [0.3, 0.25],
  [4, 0.25],
];

/**
 * The posterior of the spread of the form, with a half-normal prior of scale `formSd`.
 *
 * @param members techniques with counts, in a fixed order
 */
export function* inferFormInSteps(members: readonly FormMember[], constants: Constants): Steps<FormOfDay> {
  const { formSd, rateFloor, concentration } = constants;
  if (!(formSd > 0)) return known(0);
  const empty = new CountTables(constants).of(0, 0);
  const { days, courses } = yield* daysOf(members, (logits) => placesOn(empty, logits));
  const all: { readonly weight: number; readonly logs: readonly number[] }[] = [];
  for (const [factor, weight] of days.length > 0 ? ownDays : []) {
    const counts = new CountTables({ concentration: concentration * factor, rateFloor });
    const tables = new Map<string, ScaledTable>();
    const tableOf = (landed: number, tries: number): ScaledTable => {
      const key = `${landed}/${tries}`;
      const table = tables.get(key) ?? scaledTable(counts.of(landed, tries));
      tables.set(key, table);
      return table;
    };
    const likelihoodAt = (k: number): number =>
      formLogLikelihood(courses, days, formsOf(compared[k]! * formSd, likelihoodTableStep), tableOf);
    const logs = yield* logsAlong(likelihoodAt, all[0]?.logs);
    if (logs !== null) all.push({ weight, logs });
  }
  const together = compared.map((_, k) =>
    all.length === 0 ? 0 : logSum(all.map(({ weight, logs }) => Math.log(weight) + logs[k]!)),
  );
  return { ...posteriorOf(together, formSd), days: days.filter(({ shared }) => shared).length };
}

/**
 * The log likelihoods along the spreads that are compared, up to where greater spreads no longer count; null where none counts
 * beside those of `before`. Each of them is a step.
 */
function* logsAlong(
  likelihoodAt: (k: number) => number,
  before: readonly number[] | undefined,
): Steps<readonly number[] | null> {
  if (before !== undefined) {
    const most = Math.max(...before);
    if (likelihoodAt(before.indexOf(most)) < most - hopeless) return null;
    yield;
  }
  const logs: number[] = [];
  let best = -Infinity;
  for (let k = 0; k < compared.length; k++) {
    const last = logs.at(-1) ?? best;
    logs.push(last < best - hopeless ? last - hopeless : likelihoodAt(k));
    best = Math.max(best, logs[k]!);
    yield;
  }
  return logs;
}

/** A form whose spread is known. */
export function known(spread: number): FormOfDay {
  return { spreads: Float64Array.of(spread), weights: Float64Array.of(1), days: 0 };
}

/** The posterior on a finer grid: log likelihoods lie on the parabola through the three nearest points. */
function posteriorOf(logs: readonly number[], scale: number): Pick<FormOfDay, 'spreads' | 'weights'> {
  const last = compared.length - 1;
  const step = (compared[1]! - compared[0]!) / finer;
  // The likelihood depends on the square of the spread, so that it is level at 0.
  const at = (k: number): number => logs[Math.abs(k)]!;
  const multiples = Float64Array.from({ length: last * finer + 1 }, (_, i) => i * step);
  const posterior = multiples.map((multiple, i) => {
    const middle = Math.min(last - 1, Math.round(i / finer));
    const t = i / finer - middle;
    const [a, b, c] = [at(middle - 1), at(middle), at(middle + 1)];
    const half = i === 0 || i === multiples.length - 1 ? Math.log(0.5) : 0;
    return b + (t * (c - a)) / 2 + (t * t * (a + c - 2 * b)) / 2 - 0.5 * multiple * multiple + half;
  });
  return { spreads: multiples.map((multiple) => multiple * scale), weights: toShares(posterior) };
}

/** The days that are compared, and the possible courses of each technique on them. */
function* daysOf(
  members: readonly FormMember[],
  places: (logits: Float64Array) => Float64Array,
): Steps<{ readonly days: readonly FormDay[]; readonly courses: readonly PossibleCourses[] }> {
  const techniques = new Map<number, Set<number>>();
  for (const [i, { days }] of members.entries())
    for (const { day } of days) techniques.set(day, (techniques.get(day) ?? new Set<number>()).add(i));
  const shared = [...techniques]
    .filter(([, of]) => of.size > 1)
    .map(([day]) => day)
    .sort((a, b) => a - b);
  const first = shared.at(-mostDays) ?? shared[0];
  const counts = new Map<number, { practice: FormCount[]; runs: FormCount[] }>();
  const courses = yield* mapInSteps(members, (member, technique): PossibleCourses => {
    const own = first === undefined ? [] : member.days.filter(({ day }) => day >= first);
    if (own.length === 0) return { weights: Float64Array.of(1), logits: [] };
    const found = possibleCourses(member, own);
    own.forEach(({ day, inRun, landed, tries }, d) => {
      const at = counts.get(day) ?? { practice: [], runs: [] };
      counts.set(day, at);
      (inRun ? at.runs : at.practice).push({ technique, places: places(found.logits[d]!), landed, tries });
    });
    return found;
  });
  const days = [...counts]
    .sort(([a], [b]) => a - b)
    .map(([day, of]) => ({ ...of, shared: techniques.get(day)!.size > 1 }));
  return { days, courses };
}

/** The standard deviation of the form from day to day, in log odds: mean, 10 % and 90 % quantiles. */
export function formEstimate({ spreads, weights }: FormOfDay): Estimate {
  return {
    mean: spreads.reduce((sum, spread, i) => sum + spread * weights[i]!, 0),
    low: weightedQuantile(spreads, weights, 0.1),
    high: weightedQuantile(spreads, weights, 0.9),
  };
}
