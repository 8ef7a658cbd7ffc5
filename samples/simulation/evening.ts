import { dateOf, momentOf } from './calendar.ts';
import type { Count } from './practice.ts';
import { playRun, type Run, type RunConditions } from './run.ts';

/** One run in the log: its times by segment, or its total only. */
export interface SingleRun {
  readonly kind: 'single';
  readonly start: string;
  readonly run: Run;
  readonly totalOnly: boolean;
}

/** One evening of runs in the short form. */
export interface Evening {
  readonly kind: 'evening';
  readonly date: string;
  readonly minutes: number;
  readonly runs: number;
  readonly finished: number;
  readonly ended: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly tried: Readonly<Record<string, Count>>;
  readonly first: Readonly<Record<string, Count>>;
}

export type Entry = SingleRun | Evening;

/** Plays runs until the time is up (minutes; the last run is played to its end) and sums them up in the short form. */
export function playEvening(conditions: RunConditions, minutes: number): Evening {
  const tried: Record<string, Count> = {};
  const first: Record<string, Count> = {};
  const endings = new Map<string, Record<string, number>>();
  let clock = 0;
  let runs = 0;
  let finished = 0;
  while (clock < minutes * 60) {
    const run = playRun(conditions);
    clock += run.clock + conditions.route.restart + conditions.random.between(2, 20);
    runs += 1;
    add(tried, run.tried);
    add(first, run.first);
    if (run.ended === undefined) {
      finished += 1;
      continue;
    }
    const here = endings.get(run.ended.at) ?? {};
    here[run.ended.why] = (here[run.ended.why] ?? 0) + 1;
    endings.set(run.ended.at, here);
  }
  // In the route's order, not in the order in which the runs ended.
  const ended: Record<string, Record<string, number>> = {};
  for (const { id } of conditions.route.segments) {
    const here = endings.get(id);
    if (here !== undefined) ended[id] = here;
  }
  return {
    kind: 'evening',
    date: dateOf(conditions.day),
    minutes: Math.ceil(clock / 60),
    runs,
    finished,
    ended,
    tried: inRouteOrder(conditions, tried),
    first: inRouteOrder(conditions, first),
  };
}

/** Plays runs until the time is up (minutes) and writes each down on its own. */
export function playSingleRuns(conditions: RunConditions, minutes: number): SingleRun[] {
  const entries: SingleRun[] = [];
  const begin = 15 * 60 + 5 * conditions.random.whole(0, 11);
  let at = begin;
  while (at < begin + minutes) {
    const run = playRun(conditions);
    const totalOnly = run.ended === undefined && conditions.random.happens(0.4);
    entries.push({ kind: 'single', start: momentOf(conditions.day, at), run, totalOnly });
    at += Math.ceil((run.clock + conditions.route.restart) / 60) + conditions.random.whole(0, 4);
  }
  return entries;
}

function add(sums: Record<string, Count>, counts: Readonly<Record<string, Count>>): void {
  for (const [name, [landed, tries]] of Object.entries(counts)) {
    const [sumLanded, sumTries] = sums[name] ?? [0, 0];
    sums[name] = [sumLanded + landed, sumTries + tries];
  }
}

function inRouteOrder(
  conditions: RunConditions,
  counts: Readonly<Record<string, Count>>,
): Readonly<Record<string, Count>> {
  const ordered: Record<string, Count> = {};
  for (const segment of conditions.route.segments) {
    for (const use of segment.uses) {
      const count = counts[use.name];
      if (count !== undefined) ordered[use.name] = count;
    }
  }
  return ordered;
}
