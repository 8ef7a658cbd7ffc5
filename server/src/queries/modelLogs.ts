import { dayOf } from '../text/calendar.ts';
import type { Block, Tally, Tried } from '../files/documents/documents.ts';
import type { Logs, PracticeEntry, RunEntry } from '../model/core/types.ts';
import { currentId, type Project } from '../workspace/project.ts';
import type { Own } from '../workspace/runnerFiles.ts';

/**
 * A runner's logs as the model wants them: one entry a technique and block or run, in the order they happened.
 * Entries of techniques that the route does not know are left away, as are those after `asOf` (a day number).
 */
export function modelLogs(project: Project, own: Own, dayStarts: number, asOf: number): Logs {
  const practice: PracticeEntry[] = [];
  for (const { document } of own.practice) {
    for (const session of document.sessions) {
      const day = dayOf(session.start, dayStarts);
      let minute = session.start.date * minutesADay + (session.start.minute ?? noon);
      for (const block of session.blocks) {
        for (const entry of practiceEntries(project, block)) practice.push({ ...entry, day, order: minute });
        minute += block.minutes;
      }
    }
  }
  const runs: RunEntry[] = [];
  for (const { document } of own.runs) {
    for (const run of document.runs) {
      const day = dayOf(run.start, dayStarts);
      const order = run.start.date * minutesADay + (run.start.minute ?? evening);
      for (const { technique, counted } of runTries(project, run.tried, run.first)) {
        runs.push({ technique, counted, day, order });
      }
    }
  }
  return { practice: ordered(practice, asOf), runs: ordered(runs, asOf) };
}

const minutesADay = 24 * 60;
/** Where a log gives no time of day: practice is put before the runs of the same day. */
const noon = 12 * 60;
const evening = 20 * 60;

/** Entries up to `asOf`, by their minute on the runner's clock. */
function ordered<E extends { readonly order: number; readonly day: number }>(
  entries: readonly E[],
  asOf: number,
): E[] {
  return entries.filter(({ day }) => day <= asOf).sort((a, b) => a.order - b.order);
}

type Entry = Omit<PracticeEntry, 'day' | 'order'>;

function practiceEntries(project: Project, block: Block): Entry[] {
  if (block.technique !== undefined) {
    const technique = currentId(project, block.technique);
    if (technique === undefined) return [];
    const counted = countedIn(block);
    const attempts = block.attempts ?? block.landed?.tries ?? block.tape?.length;
    return [
      {
        technique,
        minutes: block.minutes,
        ...(attempts !== undefined && { attempts }),
        ...(counted && { counted }),
      },
    ];
  }
  // A stretch practised whole: each technique gets the time its tries took.
  return sumByTechnique(project, block.tried).map(({ technique, counted }) => {
    const seconds = counted.tries * (project.techniques.get(technique)?.practice.attempt ?? 0);
    return { technique, minutes: Math.min(block.minutes, seconds / 60), attempts: counted.tries, counted };
  });
}

/** What was counted of a block: all of it where there is a whole count, else its tape, else a sample. */
export function countedIn({
  landed,
  tape,
  seen,
}: Pick<Block, 'landed' | 'tape' | 'seen'>): Tally | undefined {
  if (landed) return possible(landed);
  if (tape !== undefined && tape !== '')
    return { landed: [...tape].filter((letter) => letter === 'l').length, tries: tape.length };
  return seen && possible(seen);
}

/** Counts with more landed than tries say nothing that could be used; a finding points at them. */
function possible(tally: Tally): Tally | undefined {
  return tally.landed <= tally.tries ? tally : undefined;
}

/** Tries of a run by technique. First tries stand in for all tries where they are given, since retries are no fair sample. */
function runTries(
  project: Project,
  tried: readonly Tried[],
  first: readonly Tried[],
): { technique: string; counted: Tally }[] {
  const firsts = sumByTechnique(project, first);
  const known = new Set(firsts.map(({ technique }) => technique));
  return [...firsts, ...sumByTechnique(project, tried).filter(({ technique }) => !known.has(technique))];
}

function sumByTechnique(project: Project, tried: readonly Tried[]): { technique: string; counted: Tally }[] {
  const sums = new Map<string, Tally>();
  for (const { technique, landed, tries } of tried) {
    const id = currentId(project, technique);
    if (id === undefined || landed > tries) continue;
    const sum = sums.get(id) ?? { landed: 0, tries: 0 };
    sums.set(id, { landed: sum.landed + landed, tries: sum.tries + tries });
  }
  return [...sums].map(([technique, counted]) => ({ technique, counted }));
}

/** The last day (by number) on which anything was logged; undefined where nothing was. */
export function lastDay(own: Own, dayStarts: number): number | undefined {
  const days = [
    ...own.practice.flatMap(({ document }) => document.sessions),
    ...own.runs.flatMap(({ document }) => document.runs),
  ].map(({ start }) => dayOf(start, dayStarts));
  return days.length > 0 ? days.reduce((a, b) => Math.max(a, b)) : undefined;
}
