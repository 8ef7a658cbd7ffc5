/**
 * How a list differs from the one before: alike up to `from`, and again from `was` (in the list before) and `is` (in
 * the list now) to the end.
 */
export interface ChangedRange {
  readonly start: number;
  readonly oldEnd: number;
  readonly newEnd: number;
}

const identical = (a: unknown, b: unknown): boolean => a === b;

/** Whether two lists hold the very same items. */
export function sameItems<T>(a: readonly T[], b: readonly T[]): boolean {
  return a.length === b.length && a.every((item, index) => item === b[index]);
}

/** Where two lists differ; one stretch, as an edit leaves it. */
export function findChangedRange<T>(
  before: readonly T[],
  now: readonly T[],
  alike: (before: T, now: T) => boolean = identical,
): ChangedRange {
  const most = Math.min(before.length, now.length);
  let from = 0;
  while (from < most && alike(before[from]!, now[from]!)) from++;
  let was = before.length;
  let is = now.length;
  while (was > from && is > from && alike(before[was - 1]!, now[is - 1]!)) {
    was--;
    is--;
  }
  return { start: from, oldEnd: was, newEnd: is };
}

/** The list before with `fresh` where it differs; the very same list where it does not. */
export function replaceChangedRange<T>(
  before: readonly T[],
  { start: from, oldEnd: was }: ChangedRange,
  fresh: readonly T[],
): readonly T[] {
  if (from === was && fresh.length === 0) return before;
  return before.slice(0, from).concat(fresh, before.slice(was));
}

/** What was made of each item of a list. */
export interface MappedList<In, Out> {
  readonly inputs: readonly In[];
  readonly outputs: readonly Out[];
}

/** Makes something of each item, or takes it from what was made of the list before where the item is the very same. */
export function mapIncremental<In, Out>(
  before: MappedList<In, Out> | undefined,
  now: readonly In[],
  make: (item: In, index: number) => Out,
): MappedList<In, Out> {
  if (!before) return { inputs: now, outputs: now.map(make) };
  if (before.inputs === now) return before;
  const difference = findChangedRange(before.inputs, now);
  const { start: from, newEnd: is } = difference;
  const fresh: Out[] = [];
  for (let at = from; at < is; at++) fresh.push(make(now[at]!, at));
  return { inputs: now, outputs: replaceChangedRange(before.outputs, difference, fresh) };
}
