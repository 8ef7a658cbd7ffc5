/**
 * How a list differs from the one before: alike up to `from`, and again from `was` (in the list before) and `is` (in
 * the list now) to the end.
 */
export interface Difference {
  readonly from: number;
  readonly was: number;
  readonly is: number;
}

const identical = (a: unknown, b: unknown): boolean => a === b;

/** Whether two lists hold the very same items. */
export function sameItems<T>(a: readonly T[], b: readonly T[]): boolean {
  return a.length === b.length && a.every((item, index) => item === b[index]);
}

/** Where two lists differ; one stretch, as an edit leaves it. */
export function differenceOf<T>(
  before: readonly T[],
  now: readonly T[],
  alike: (before: T, now: T) => boolean = identical,
): Difference {
  const most = Math.min(before.length, now.length);
  let from = 0;
  while (from < most && alike(before[from]!, now[from]!)) from++;
  let was = before.length;
  let is = now.length;
  while (was > from && is > from && alike(before[was - 1]!, now[is - 1]!)) {
    was--;
    is--;
  }
  return { from, was, is };
}

/** The list before with `fresh` where it differs; the very same list where it does not. */
export function spliced<T>(
  before: readonly T[],
  { from, was }: Difference,
  fresh: readonly T[],
): readonly T[] {
  if (from === was && fresh.length === 0) return before;
  return before.slice(0, from).concat(fresh, before.slice(was));
}

/** What was made of each item of a list. */
export interface Made<In, Out> {
  readonly from: readonly In[];
  readonly to: readonly Out[];
}

/** Makes something of each item, or takes it from what was made of the list before where the item is the very same. */
export function carried<In, Out>(
  before: Made<In, Out> | undefined,
  now: readonly In[],
  make: (item: In, index: number) => Out,
): Made<In, Out> {
  if (!before) return { from: now, to: now.map(make) };
  if (before.from === now) return before;
  const difference = differenceOf(before.from, now);
  const { from, is } = difference;
  const fresh: Out[] = [];
  for (let at = from; at < is; at++) fresh.push(make(now[at]!, at));
  return { from: now, to: spliced(before.to, difference, fresh) };
}
