/** What the form of the day does to the final times of runs, for telling it. */
import type { Estimate } from '../core/types.ts';
import { formEstimate } from '../skill/formOfDay.ts';
import type { FormOfDay } from '../skill/formOfDay.ts';
import type { DayForm } from './formOfRuns.ts';
import type { TimeDistribution } from './timeDistribution.ts';
import { massAndMean } from './timeStatistics.ts';

export interface FormInRuns {
  /** Standard deviation of the form from day to day, log odds of every landing rate: mean, 10 % and 90 % quantiles. */
  readonly spread: Estimate;
  /** Days of the logs with counts of several techniques, which tell about it. */
  readonly days: number;
  /** Standard deviation from day to day of the mean final time of a day's runs, seconds. */
  readonly seconds: number;
  /** Finished runs that belong to one day. */
  readonly finishedPerDay: number;
}

/**
 * The form of the day and what it does.
 *
 * @param forms the forms that stand for all
 * @param times final times of each possible runner on a day of each form, with weights
 */
export function formInRuns(
  form: FormOfDay,
  forms: readonly DayForm[],
  times: readonly { readonly weight: number; readonly form: number; readonly times: TimeDistribution }[],
  finishedPerDay: number,
): FormInRuns | null {
  if (forms.length === 1) return null;
  const [masses, sums] = [new Float64Array(forms.length), new Float64Array(forms.length)];
  for (const { weight, form: own, times: one } of times) {
    const { mass, mean } = massAndMean(one);
    masses[own]! += weight * mass;
    sums[own]! += weight * mass * mean;
  }
  const means = sums.map((sum, f) => (masses[f]! > 0 ? sum / masses[f]! : 0));
  const mean = forms.reduce((sum, { weight }, f) => sum + weight * means[f]!, 0);
  const variance = forms.reduce((sum, { weight }, f) => sum + weight * (means[f]! - mean) ** 2, 0);
  return { spread: formEstimate(form), days: form.days, seconds: Math.sqrt(variance), finishedPerDay };
}
