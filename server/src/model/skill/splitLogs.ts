/** The last week of the logs, and what stood before it. */
import type { AttemptCount, Logs, PracticeEntry, RunEntry } from '../core/types.ts';

/** Days that a review looks back on. */
export const reviewDays = 7;
/** Days before them with which the runs of the week are compared. */
export const comparisonDays = 28;

/** Logs cut in two at the beginning of the last week. */
export interface SplitLogs {
  /** First day of the week, a day number. */
  readonly from: number;
  readonly before: Logs;
  readonly within: Logs;
}

/** Cuts the logs at the morning `weekDays` days before `asOfDay`. Entries after `asOfDay` are left away. */
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

/** Entries by technique. */
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

/** Landed and tried in all, of what was counted. */
export function sumCounts(entries: readonly (PracticeEntry | RunEntry)[]): AttemptCount {
  let landed = 0;
  let tries = 0;
  for (const { counted } of entries) {
    landed += counted?.landed ?? 0;
    tries += counted?.tries ?? 0;
  }
  return { landed, tries };
}

/** Landed and tried by day, in the order of the days. */
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
