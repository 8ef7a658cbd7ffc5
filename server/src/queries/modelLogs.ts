import { minutesPerDay, runnerDayOf } from '../text/calendar.ts';
import type { Block, AttemptCounts, TechniqueAttempts } from '../files/documents/documents.ts';
import { addCounts } from '../model/core/counts.ts';
import type { Logs, PracticeEntry, RunEntry } from '../model/core/types.ts';
import { currentTechniqueId, type Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';

/**
 * A runner's logs in the model's form: one entry for each technique of each block or run, in the order in which they
 * happened. Entries of techniques that the route does not have are left out, as are those after `asOf` (a day number).
 */
export function buildModelLogs(project: Project, own: RunnerFiles, dayStarts: number, asOf: number): Logs {
  const practice: PracticeEntry[] = [];
  for (const { document } of own.practice) {
    for (const session of document.sessions) {
      const day = runnerDayOf(session.start, dayStarts);
      let minute = session.start.date * minutesPerDay + (session.start.minute ?? defaultPracticeMinute);
      for (const block of session.blocks) {
        for (const entry of practiceEntries(project, block)) practice.push({ ...entry, day, order: minute });
        minute += block.minutes;
      }
    }
  }
  const runs: RunEntry[] = [];
  for (const { document } of own.runs) {
    for (const run of document.runs) {
      const day = runnerDayOf(run.start, dayStarts);
      const order = run.start.date * minutesPerDay + (run.start.minute ?? defaultRunMinute);
      for (const { technique, counted } of runTries(project, run.tried, run.first)) {
        runs.push({ technique, counted, day, order });
      }
    }
  }
  return { practice: entriesUpTo(practice, asOf), runs: entriesUpTo(runs, asOf) };
}

/** The assumed time of day, in minutes, where a log gives none: practice then comes before the runs of the same day. */
const defaultPracticeMinute = 12 * 60;
const defaultRunMinute = 20 * 60;

/** Entries up to `asOf`, by their minute on the runner's clock. */
function entriesUpTo<E extends { readonly order: number; readonly day: number }>(
  entries: readonly E[],
  asOf: number,
): E[] {
  return entries.filter(({ day }) => day <= asOf).sort((a, b) => a.order - b.order);
}

type Entry = Omit<PracticeEntry, 'day' | 'order'>;

function practiceEntries(project: Project, block: Block): Entry[] {
  if (block.technique !== undefined) {
    const technique = currentTechniqueId(project, block.technique);
    if (technique === undefined) return [];
    const counted = blockTally(block);
    const attempts = block.attempts ?? block.landed?.tries ?? block.tape?.length;
    return [
      {
        technique,
        minutes: block.minutes,
        ...(attempts !== undefined && { attempts }),
        ...(counted && { counted }),
        ...(block.tape !== undefined && { tape: block.tape }),
      },
    ];
  }
  // A stretch practised as a whole: each technique gets the share of the time that its tries took.
  return sumByTechnique(project, block.tried).map(({ technique, counted }) => {
    const seconds = counted.tries * (project.techniques.get(technique)?.practice.attempt ?? 0);
    return { technique, minutes: Math.min(block.minutes, seconds / 60), attempts: counted.tries, counted };
  });
}

/** The counts of a block: its whole count where there is one, else the count of its tape, else that of a sample. */
export function blockTally({
  landed,
  tape,
  seen,
}: Pick<Block, 'landed' | 'tape' | 'seen'>): AttemptCounts | undefined {
  if (landed) return validTally(landed);
  if (tape !== undefined && tape !== '')
    return { landed: [...tape].filter((letter) => letter === 'l').length, tries: tape.length };
  return seen && validTally(seen);
}

/** Undefined for counts with more landed than tries: they cannot be used, and a finding reports them. */
function validTally(tally: AttemptCounts): AttemptCounts | undefined {
  return tally.landed <= tally.tries ? tally : undefined;
}

/**
 * Tries of a run by technique. Where first tries are given, they replace all tries, since retries are no fair sample.
 */
function runTries(
  project: Project,
  tried: readonly TechniqueAttempts[],
  first: readonly TechniqueAttempts[],
): { technique: string; counted: AttemptCounts }[] {
  const firsts = sumByTechnique(project, first);
  const withFirstTries = new Set(firsts.map(({ technique }) => technique));
  return [
    ...firsts,
    ...sumByTechnique(project, tried).filter(({ technique }) => !withFirstTries.has(technique)),
  ];
}

function sumByTechnique(
  project: Project,
  tried: readonly TechniqueAttempts[],
): { technique: string; counted: AttemptCounts }[] {
  const sums = new Map<string, AttemptCounts>();
  for (const { technique, landed, tries } of tried) {
    const id = currentTechniqueId(project, technique);
    if (id === undefined || landed > tries) continue;
    sums.set(id, addCounts(sums.get(id) ?? { landed: 0, tries: 0 }, { landed, tries }));
  }
  return [...sums].map(([technique, counted]) => ({ technique, counted }));
}

/** The last day (by number) up to `until` on which anything was logged; undefined where nothing was. */
export function lastLoggedDay(own: RunnerFiles, dayStarts: number, until: number): number | undefined {
  const days = [
    ...own.practice.flatMap(({ document }) => document.sessions),
    ...own.runs.flatMap(({ document }) => document.runs),
  ]
    .map(({ start }) => runnerDayOf(start, dayStarts))
    .filter((day) => day <= until);
  return days.length > 0 ? days.reduce((a, b) => Math.max(a, b)) : undefined;
}
