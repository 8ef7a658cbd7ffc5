import { compareMoments, runnerDayOf } from '../text/calendar.ts';
import type { TechniqueState } from '../files/documents/documents.ts';
import { currentTechniqueId, type Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';

/** A technique tried in at least this many of the last runs counts as in the run. */
const minRunsTried = 3;
const recentRunCount = 10;
/** A technique practised within this many days counts as being learned. */
const learningDays = 7;

/**
 * The state of each technique for the runner: from the week file, and where that has none, from the logs.
 *
 * @param asOf day number of the morning that it is for
 */
export function techniqueStatesOf(
  project: Project,
  own: RunnerFiles,
  dayStarts: number,
  asOf: number,
): Map<string, TechniqueState> {
  const states = new Map<string, TechniqueState>();
  for (const id of recentlyPractised(project, own, dayStarts, asOf)) states.set(id, 'learning');
  for (const id of recentlyTried(project, own, dayStarts, asOf)) states.set(id, 'in-run');
  for (const { id, state } of own.week?.document.states ?? []) {
    const current = currentTechniqueId(project, id);
    if (current !== undefined) states.set(current, state);
  }
  return states;
}

/** The techniques that the week file gives a state. */
export function writtenStates(project: Project, own: RunnerFiles): ReadonlySet<string> {
  const states = own.week?.document.states ?? [];
  return new Set(states.flatMap(({ id }) => currentTechniqueId(project, id) ?? []));
}

function recentlyPractised(project: Project, own: RunnerFiles, dayStarts: number, asOf: number): Set<string> {
  const found = new Set<string>();
  for (const session of own.practice.flatMap(({ document }) => document.sessions)) {
    const age = asOf - runnerDayOf(session.start, dayStarts);
    if (age < 0 || age > learningDays) continue;
    for (const block of session.blocks) {
      const written =
        block.technique === undefined ? block.tried.map(({ technique }) => technique) : [block.technique];
      for (const id of written) found.add(currentTechniqueId(project, id) ?? id);
    }
  }
  return found;
}

function recentlyTried(project: Project, own: RunnerFiles, dayStarts: number, asOf: number): string[] {
  const runs = own.runs
    .flatMap(({ document }) => document.runs)
    .filter(({ start }) => runnerDayOf(start, dayStarts) <= asOf)
    .sort((a, b) => compareMoments(b.start, a.start));
  const tried = new Map<string, number>();
  let seen = 0;
  for (const run of runs) {
    if (seen >= recentRunCount) break;
    // An entry for a whole evening counts as the runs started in it, up to the number of runs still needed.
    const counted = Math.min(run.started, recentRunCount - seen);
    seen += counted;
    const tries = new Map<string, number>();
    for (const { technique, tries: n } of run.tried) {
      const id = currentTechniqueId(project, technique) ?? technique;
      tries.set(id, (tries.get(id) ?? 0) + n);
    }
    for (const [id, n] of tries) tried.set(id, (tried.get(id) ?? 0) + Math.min(counted, n));
  }
  return [...tried].filter(([, runsTried]) => runsTried >= minRunsTried).map(([id]) => id);
}
