/** The expected best of several runs of one runner, on several days that differ in form. */
import { minutesPerDay } from '../core/numbers.ts';
import { expectedBest, massAndMean } from './timeStatistics.ts';
import type { TimeDistribution } from './timeDistribution.ts';

/**
 * The expected best, in seconds, of `runs` runs that finish, of which `perDay` belong to one day. The runs of one day have
 * the same form, and each day has a form of its own; given the form, runs are independent.
 *
 * With s(t, f) the share of runs slower than t on a day of form f, no run is under t with the chance Σ w(f) · s(t, f)^perDay for
 * each whole day; the last day may have fewer runs.
 *
 * @param byForm the final times on a day of each form, all on one grid, with the forms' weights; a form counts as much more as
 *   more of its runs finish
 * @param perDay 1 or more; not necessarily a whole number
 */
export function expectedBestOverDays(
  byForm: readonly { readonly weight: number; readonly times: TimeDistribution }[],
  runs: number,
  perDay: number,
): number {
  const first = byForm[0];
  if (byForm.length === 1 && first !== undefined) return expectedBest(first.times, runs);
  const forms = byForm
    .map(({ weight, times }) => ({ times, mass: massAndMean(times).mass, weight }))
    .filter(({ mass }) => mass > 0)
    .map(({ times, mass, weight }) => ({ times, mass, weight: weight * mass, slower: mass }));
  const total = forms.reduce((sum, { weight }) => sum + weight, 0);
  const earliest = forms.reduce((least, { times }) => Math.min(least, times.start), Infinity);
  if (!(total > 0)) return first?.times.start ?? 0;
  const step = forms[0]!.times.step;
  const placed = forms.map((form) => ({ ...form, at: Math.round((form.times.start - earliest) / step) }));
  const end = placed.reduce((most, { at, times }) => Math.max(most, at + times.masses.length), 1);
  const wholeDays = Math.floor(runs / perDay + 1e-9);
  const rest = Math.max(0, runs - wholeDays * perDay);
  const noneUnder = (count: number): number =>
    placed.reduce((sum, { slower, mass, weight }) => sum + weight * Math.max(0, slower / mass) ** count, 0) /
    total;
  let before = 1;
  let points = 0;
  for (let i = 0; i < end; i++) {
    for (const form of placed) form.slower -= form.times.masses[i - form.at] ?? 0;
    const after =
      i === end - 1
        ? 0
        : (wholeDays > 0 ? noneUnder(perDay) ** wholeDays : 1) * (rest > 1e-9 ? noneUnder(rest) : 1);
    points += i * (before - after);
    before = after;
  }
  return earliest + points * step;
}

/** Minutes of runs on a day where nothing else is known. Chosen: a usual evening. */
export const usualRunMinutes = 120;

/**
 * Finished runs of one day, 1 at least.
 *
 * @param clockPerFinish clock seconds for each finished run; null where none finishes
 * @param minutes minutes of runs on that day; two hours if omitted
 * @example
 * finishedPerDay(1200, 60) // 3
 */
export function finishedPerDay(clockPerFinish: number | null, minutes = usualRunMinutes): number {
  if (clockPerFinish === null || !(clockPerFinish > 0) || !(minutes > 0)) return 1;
  return Math.max(1, (60 * Math.min(minutes, minutesPerDay)) / clockPerFinish);
}
