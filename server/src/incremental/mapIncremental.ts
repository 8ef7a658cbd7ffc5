/**
 * The range in which a list differs from its previous version. The items before `start` are the same in both, and
 * so are the items from `oldEnd` (in the old list) and `newEnd` (in the new list) to the end.
 */
export interface ChangedRange {
  readonly start: number;
  readonly oldEnd: number;
  readonly newEnd: number;
}

const identical = (a: unknown, b: unknown): boolean => a === b;

/**
 * Whether two lists hold identical items (compared by `===`) in the same order.
 *
 * @example
 * sameItems([1, 2], [1, 2]) // true
 * sameItems([{}], [{}]) // false
 */
export function sameItems<T>(a: readonly T[], b: readonly T[]): boolean {
  return a.length === b.length && a.every((item, index) => item === b[index]);
}

/**
 * The smallest single range that contains every difference between two lists, found by comparing them from both
 * ends.
 *
 * @param alike whether an old and a new item count as the same; compares by `===` if omitted
 * @example
 * findChangedRange(['a', 'b', 'c'], ['a', 'x', 'y', 'c']) // { start: 1, oldEnd: 2, newEnd: 3 }
 */
export function findChangedRange<T>(
  before: readonly T[],
  now: readonly T[],
  alike: (before: T, now: T) => boolean = identical,
): ChangedRange {
  const most = Math.min(before.length, now.length);
  let start = 0;
  while (start < most && alike(before[start]!, now[start]!)) start++;
  let oldEnd = before.length;
  let newEnd = now.length;
  while (oldEnd > start && newEnd > start && alike(before[oldEnd - 1]!, now[newEnd - 1]!)) {
    oldEnd--;
    newEnd--;
  }
  return { start, oldEnd, newEnd };
}

/**
 * The old list with `fresh` in place of its changed range. Returns the same array object if nothing changed.
 *
 * @example
 * replaceChangedRange([1, 2, 3], { start: 1, oldEnd: 2, newEnd: 3 }, [8, 9]) // [1, 8, 9, 3]
 */
export function replaceChangedRange<T>(
  before: readonly T[],
  { start, oldEnd }: ChangedRange,
  fresh: readonly T[],
): readonly T[] {
  if (start === oldEnd && fresh.length === 0) return before;
  return before.slice(0, start).concat(fresh, before.slice(oldEnd));
}

/** A list and the result computed for each of its items, in the same order. */
export interface MappedList<In, Out> {
  readonly inputs: readonly In[];
  readonly outputs: readonly Out[];
}

/**
 * Calls `make` for the items in the changed range and takes the results of all others from `before`. If the list is
 * the same array object, so is the result. `make` can be called again for an item that only moved.
 *
 * @param before the result for the previous version of the list; undefined the first time
 * @example
 * mapIncremental(undefined, ['a', 'bb'], (word) => word.length).outputs // [1, 2]
 */
export function mapIncremental<In, Out>(
  before: MappedList<In, Out> | undefined,
  now: readonly In[],
  make: (item: In, index: number) => Out,
): MappedList<In, Out> {
  if (!before) return { inputs: now, outputs: now.map(make) };
  if (before.inputs === now) return before;
  const changed = findChangedRange(before.inputs, now);
  const fresh: Out[] = [];
  for (let at = changed.start; at < changed.newEnd; at++) fresh.push(make(now[at]!, at));
  return { inputs: now, outputs: replaceChangedRange(before.outputs, changed, fresh) };
}
