/** Splits the logs into the last week and everything before it. */
import type { AttemptCount, Logs, PracticeEntry, RunEntry } from '../core/types.ts';

/** Number of days that a review covers. */
export const reviewDays = 7;
/** Number of days before the week; their runs are compared with those of the week. */
export const comparisonDays = 28;

/** Logs divided in two at the beginning of the last week. */
export interface SplitLogs {
  /** First day of the week, a day number. */
  readonly from: number;
  readonly before: Logs;
  readonly within: Logs;
}

/** Divides the logs at the morning {@link reviewDays} days before `asOfDay`. Entries after `asOfDay` are left out. */
export function splitLogs(logs: Logs, asOfDay: number): SplitLogs {
  const from = asOfDay - reviewDays;
  const part = <E extends { readonly day: number }>(entries: readonly E[], inWeek: boolean): E[] =>
    entries.filter(({ day }) => day <= asOfDay && day >= from === inWeek);
  return {
    from,
    before: { practice: part(logs.practice, false), runs: part(logs.runs, false) },
    within: { practice: part(logs.practice, true), runs: part(logs.runs, true) },
  };
}

/** The entries of each technique. */
export function groupByTechnique<E extends { readonly technique: string }>(
  entries: readonly E[],
): ReadonlyMap<string, readonly E[]> {
  const groups = new Map<string, E[]>();
  for (const entry of entries) {
    const group = groups.get(entry.technique);
    if (group === undefined) groups.set(entry.technique, [entry]);
    else group.push(entry);
  }
  return groups;
}

/** The sum of all counts: landed and tries. */
export function sumCounts(entries: readonly (PracticeEntry | RunEntry)[]): AttemptCount {
  let landed = 0;
  let tries = 0;
  for (const { counted } of entries) {
    landed += counted?.landed ?? 0;
    tries += counted?.tries ?? 0;
  }
  return { landed, tries };
}

/** The counts of each day, in the order of the days. */
export function countsByDay(
  entries: readonly RunEntry[],
): readonly (AttemptCount & { readonly day: number })[] {
  const days = new Map<number, RunEntry[]>();
  for (const entry of entries) days.set(entry.day, [...(days.get(entry.day) ?? []), entry]);
  return [...days]
    .sort(([a], [b]) => a - b)
    .map(([day, own]) => ({ day, ...sumCounts(own) }))
    .filter(({ tries }) => tries > 0);
}
