/** What the form of the day does to the landing rates of the runs of one day. */
import { clamp, logistic, logit } from '../core/numbers.ts';
import { inferFormInSteps, known } from '../skill/formOfDay.ts';
import type { FormOfDay } from '../skill/formOfDay.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { PreparedModel } from './preparedModel.ts';
import type { LandingRateOf } from './runState.ts';

/** A form that a day may have: what it adds to the log odds of every technique, and how likely it is. */
export interface DayForm {
  readonly shift: number;
  readonly weight: number;
}

/** The only form there is where all days are alike. */
export const usualForm: readonly DayForm[] = [{ shift: 0, weight: 1 }];

/** What the logs tell about the form of the runner's days; kept as long as no count changes. */
export function* formOfRunnerInSteps(prepared: PreparedModel): Steps<FormOfDay> {
  const { fittedTechniques, losses, constants, shared } = prepared;
  const members = [...fittedTechniques.values()].flatMap(({ evidence, posterior, prior, history }) =>
    evidence === null ? [] : [{ evidence, grid: posterior.grid, losses, prior, days: history.days }],
  );
  const on = members.flatMap(({ evidence, grid, prior }) => [evidence, grid, prior]);
  return yield* shared.getOrComputeInSteps('form of the day', [constants, losses, ...on], () =>
    inferFormInSteps(members, constants),
  );
}

/** Variance of the form, log odds squared, over all spreads that are possible. */
export function varianceOfForm({ spreads, weights }: FormOfDay): number {
  return spreads.reduce((sum, spread, i) => sum + weights[i]! * spread ** 2, 0);
}

/**
 * A few forms that stand for all: three with the variance and the fourth moment of the form, or one where all days are alike.
 * For a spread that is known they are the nodes of Gauss and Hermite.
 *
 * @example
 * dayForms({ spreads: Float64Array.of(0), weights: Float64Array.of(1), days: 0 }).length // 1
 * dayForms({ spreads: Float64Array.of(0.5), weights: Float64Array.of(1), days: 0 })[2].shift // 0.866
 */
export function dayForms(form: FormOfDay): readonly DayForm[] {
  const second = varianceOfForm(form);
  if (!(second > 0)) return usualForm;
  const fourth = 3 * form.spreads.reduce((sum, spread, i) => sum + form.weights[i]! * spread ** 4, 0);
  const far = Math.sqrt(fourth / second);
  const weight = second ** 2 / (2 * fourth);
  return [
    { shift: -far, weight },
    { shift: 0, weight: 1 - 2 * weight },
    { shift: far, weight },
  ];
}

/** The golden ratio's fractional part: multiples of it are spread evenly over 0 to 1, however many are taken. */
const golden = (Math.sqrt(5) - 1) / 2;

/**
 * The forms of days in each of several worlds. How much days differ is the same on all days of a world, and over the worlds it
 * is spread as the posterior is, evenly within any stretch of the list.
 */
export function formsOfWorlds(form: FormOfDay, worlds: number): readonly (readonly DayForm[])[] {
  const { spreads, weights } = form;
  return Array.from({ length: worlds }, (_, w) => {
    let left = ((w + 0.5) * golden) % 1;
    const at = weights.findIndex((weight) => (left -= weight) < 0);
    return dayForms(known(spreads[at] ?? spreads.at(-1) ?? 0));
  });
}

/** Halvings of the range in which the shift that keeps the mean is looked for. */
const halvings = 40;

/**
 * A landing rate on a day of each form. In log odds the rates differ by what the forms add, and their mean over all days is
 * the given rate.
 */
export function rateOnForms(rate: number, forms: readonly DayForm[]): Float64Array {
  if (forms.length === 1 || !(rate > 0 && rate < 1)) return new Float64Array(forms.length).fill(rate);
  const at = logit(clamp(rate, 1e-9, 1 - 1e-9));
  const farthest = forms.reduce((most, { shift }) => Math.max(most, Math.abs(shift)), 0);
  let [low, high] = [at - farthest, at + farthest];
  for (let i = 0; i < halvings; i++) {
    const middle = (low + high) / 2;
    const mean = forms.reduce((sum, { shift, weight }) => sum + weight * logistic(middle + shift), 0);
    if (mean < rate) low = middle;
    else high = middle;
  }
  return Float64Array.from(forms, ({ shift }) => logistic((low + high) / 2 + shift));
}

/** The landing rates of one runner on a day of each form, in the order of the forms. */
export function ratesOnForms(rateOf: LandingRateOf, forms: readonly DayForm[]): readonly LandingRateOf[] {
  if (forms.length === 1) return [rateOf];
  const found = new Map<string, Float64Array>();
  return forms.map((_, f) => (technique) => {
    const rates = found.get(technique) ?? rateOnForms(rateOf(technique), forms);
    found.set(technique, rates);
    return rates[f]!;
  });
}
