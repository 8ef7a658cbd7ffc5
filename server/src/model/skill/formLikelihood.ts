/**
 * How likely the counts of all techniques are, day by day, if the form of the day has a given spread.
 *
 * On a day of form z, every technique lands with the log odds of its own course plus z. Each day all forms are summed over, and
 * given the form all courses of each technique. What the day tells about each technique is then kept for the next days, for
 * each technique by itself: that is exact but for techniques whose courses become related through days that they share
 * (assumed density filtering; Minka 2001, Uncertainty in Artificial Intelligence 17).
 */
import { margin } from './formTables.ts';
import type { Forms, ScaledTable } from './formTables.ts';
import type { PossibleCourses } from './possibleCourses.ts';

/** One count of one technique on one day. */
export interface FormCount {
  /** Place of the technique in the list of courses. */
  readonly technique: number;
  /** Where the log odds of each of its courses on that day lie among the points of the tables. */
  readonly places: Float64Array;
  readonly landed: number;
  readonly tries: number;
}

/** The counts of one day. */
export interface FormDay {
  /** In practice, and in runs. Each technique is in each of them once at most. */
  readonly practice: readonly FormCount[];
  readonly runs: readonly FormCount[];
  /** Whether the day has counts of several techniques; only then does it tell about the form. */
  readonly shared: boolean;
}

/** The smallest likelihood of a count, so that no form is ruled out by the end of a table. */
const leastLikelihood = 1e-200;

/** Courses with less weight than this no longer count. */
const leastWeight = 1e-9;

/** Courses as masses on the points of a table. */
interface OnTable {
  /** The points from the first to the last that has any mass. */
  readonly low: number;
  readonly high: number;
  readonly masses: Float64Array;
}

/** A count on its way through one day: its technique on the points of its table, and how likely each form makes it. */
interface CountAtForms extends OnTable {
  readonly count: FormCount;
  readonly table: ScaledTable;
  readonly likelihoods: Float64Array;
}

/**
 * Log likelihood of the counts of all days.
 *
 * @param courses the possible courses of each technique, from before the first day
 * @param days in order
 * @param tableOf the likelihood of a count; all of its tables have the step that `forms` was made for
 */
export function formLogLikelihood(
  courses: readonly PossibleCourses[],
  days: readonly FormDay[],
  forms: Forms,
  tableOf: (landed: number, tries: number) => ScaledTable,
): number {
  const beliefs = courses.map(({ weights }) => Float64Array.from(weights));
  let log = 0;
  for (const { practice, runs, shared } of days) {
    let belief = forms.weights;
    for (const counts of [practice, runs]) {
      if (counts.length === 0) continue;
      const atForms = counts.map((count) => compare(count, beliefs[count.technique]!, forms, tableOf));
      const { likelihood, next } = learn(atForms, belief, beliefs, forms);
      belief = next;
      if (shared) log += likelihood;
    }
  }
  return log;
}

/** A course between two points of the table is divided between them. */
function putOnTable(belief: Float64Array, places: Float64Array, { points }: ScaledTable): OnTable {
  const masses = new Float64Array(points);
  let [low, high] = [points - 2, 0];
  for (let i = 0; i < belief.length; i++) {
    const weight = belief[i]!;
    if (weight < leastWeight) continue;
    const at = places[i]!;
    const base = at | 0;
    const further = weight * (at - base);
    masses[base]! += weight - further;
    masses[base + 1]! += further;
    if (base < low) low = base;
    if (base > high) high = base;
  }
  return { low, high: high + 1, masses };
}

/** How likely each form makes a count, summed over the courses of its technique. */
function compare(
  count: FormCount,
  belief: Float64Array,
  { reach, weights }: Forms,
  tableOf: (landed: number, tries: number) => ScaledTable,
): CountAtForms {
  const table = tableOf(count.landed, count.tries);
  const { values } = table;
  const { low, high, masses } = putOnTable(belief, count.places, table);
  const likelihoods = new Float64Array(weights.length);
  for (let m = 0; m < likelihoods.length; m++) {
    const shift = margin + m - reach;
    let sum = 0;
    for (let b = low; b <= high; b++) sum += masses[b]! * values[b + shift]!;
    likelihoods[m] = Math.max(leastLikelihood, sum);
  }
  return { count, table, low, high, masses, likelihoods };
}

/**
 * Learns from counts of one day at once: the log likelihood of all of them, and what is then believed of the form. The
 * beliefs about the techniques are changed in place.
 */
function learn(
  counts: readonly CountAtForms[],
  belief: Float64Array,
  beliefs: readonly Float64Array[],
  { reach }: Forms,
): { readonly likelihood: number; readonly next: Float64Array } {
  let before: Float64Array = belief;
  let likelihood = 0;
  // For each count the form as the counts before it have it, and then, from the other end, as those after it have it.
  const others = counts.map(({ likelihoods, table }) => {
    const own = before;
    const { shares, total } = shared(before, likelihoods);
    likelihood += Math.log(total) + table.scale;
    before = shares;
    return own;
  });
  let after: Float64Array = new Float64Array(belief.length).fill(1 / belief.length);
  for (let i = counts.length - 1; i >= 0; i--) {
    const { likelihoods } = counts[i]!;
    weigh(beliefs, counts[i]!, shared(others[i]!, after).shares, reach);
    after = shared(after, likelihoods).shares;
  }
  return { likelihood, next: before };
}

/** The products of two lists, divided by their sum, and that sum. */
function shared(a: Float64Array, b: Float64Array): { readonly shares: Float64Array; readonly total: number } {
  const shares = new Float64Array(a.length);
  let total = 0;
  for (let m = 0; m < shares.length; m++) total += shares[m] = a[m]! * b[m]!;
  for (let m = 0; m < shares.length; m++) shares[m]! /= total;
  return { shares, total };
}

/** Weighs the courses of a technique by one count, given what is otherwise believed of the form. */
function weigh(
  beliefs: readonly Float64Array[],
  { count, table, low, high }: CountAtForms,
  form: Float64Array,
  reach: number,
): void {
  const { values } = table;
  const mean = new Float64Array(table.points);
  for (let m = 0; m < form.length; m++) {
    const share = form[m]!;
    const shift = margin + m - reach;
    for (let b = low; b <= high; b++) mean[b]! += share * values[b + shift]!;
  }
  const belief = beliefs[count.technique]!;
  let total = 0;
  for (let i = 0; i < belief.length; i++) {
    const weight = belief[i]!;
    if (weight < leastWeight) continue;
    const at = count.places[i]!;
    const base = at | 0;
    const weighed = weight * (mean[base]! + (at - base) * (mean[base + 1]! - mean[base]!));
    belief[i] = weighed;
    total += weighed;
  }
  if (total > 0) for (let i = 0; i < belief.length; i++) belief[i]! /= total;
}
