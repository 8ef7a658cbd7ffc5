import { dateOf, momentOf } from './calendar.ts';
import type { Count } from './practice.ts';
import { playRun, type Run, type RunWorld } from './run.ts';

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

/** Plays runs until the time is up (minutes; the last run is played to its end) and writes them up in short. */
export function playEvening(world: RunWorld, minutes: number): Evening {
  const tried: Record<string, Count> = {};
  const first: Record<string, Count> = {};
  const endings = new Map<string, Record<string, number>>();
  let clock = 0;
  let runs = 0;
  let finished = 0;
  while (clock < minutes * 60) {
    const run = playRun(world);
    clock += run.clock + world.route.restart + world.random.between(2, 20);
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
  // In the route's order, whatever came first that night.
  const ended: Record<string, Record<string, number>> = {};
  for (const { id } of world.route.segments) {
    const here = endings.get(id);
    if (here !== undefined) ended[id] = here;
  }
  return {
    kind: 'evening',
    date: dateOf(world.day),
    minutes: Math.ceil(clock / 60),
    runs,
    finished,
    ended,
    tried: inRouteOrder(world, tried),
    first: inRouteOrder(world, first),
  };
}

/** Plays runs until the time is up (minutes) and writes each down on its own. */
export function playSingleRuns(world: RunWorld, minutes: number): SingleRun[] {
  const entries: SingleRun[] = [];
  const begin = 15 * 60 + 5 * world.random.whole(0, 11);
  let at = begin;
  while (at < begin + minutes) {
    const run = playRun(world);
    const totalOnly = run.ended === undefined && world.random.happens(0.4);
    entries.push({ kind: 'single', start: momentOf(world.day, at), run, totalOnly });
    at += Math.ceil((run.clock + world.route.restart) / 60) + world.random.whole(0, 4);
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
  world: RunWorld,
  counts: Readonly<Record<string, Count>>,
): Readonly<Record<string, Count>> {
  const ordered: Record<string, Count> = {};
  for (const segment of world.route.segments) {
    for (const use of segment.uses) {
      const count = counts[use.name];
      if (count !== undefined) ordered[use.name] = count;
    }
  }
  return ordered;
}
