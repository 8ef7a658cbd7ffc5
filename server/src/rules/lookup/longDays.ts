/** Practice that counts for one day, and for whatever else its key says. */
export interface PractisedMinutes {
  readonly minutes: number;
}

/** A group of practice whose minutes in all are more than allowed. */
export interface LongDay<T> {
  /** Minutes of the whole group. */
  readonly minutes: number;
  /** The first with which the minutes were more than allowed. */
  readonly passedBy: T;
}

/**
 * The groups of practice with more than `maxMinutes` in all, in the order of their first entries.
 *
 * @param practice in the order in which its minutes are added up
 * @param keyOf which practice is added up together: its day, or its day and technique
 */
export function longDays<T extends PractisedMinutes>(
  practice: readonly T[],
  maxMinutes: number,
  keyOf: (practised: T) => string | number,
): LongDay<T>[] {
  const sums = new Map<string | number, { minutes: number; passedBy: T | undefined }>();
  for (const practised of practice) {
    const key = keyOf(practised);
    const sum = sums.get(key) ?? { minutes: 0, passedBy: undefined };
    sums.set(key, sum);
    sum.minutes += practised.minutes;
    if (sum.minutes > maxMinutes) sum.passedBy ??= practised;
  }
  return [...sums.values()].flatMap(({ minutes, passedBy }) =>
    passedBy === undefined ? [] : [{ minutes, passedBy }],
  );
}
