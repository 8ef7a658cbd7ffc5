import type { Project, WeekFile, PracticeFile, RunsFile } from './project.ts';

/** The logs and the week file of one runner in a project. */
export interface RunnerFiles {
  readonly runner: string | undefined;
  readonly practice: readonly PracticeFile[];
  readonly runs: readonly RunsFile[];
  readonly week: WeekFile | undefined;
}

/** It is not known whose files count: several runners are named and none was chosen, or the chosen one is not named. */
export interface AmbiguousRunner {
  /** The runners named, sorted. */
  readonly runners: readonly string[];
  /** The runner that was chosen; undefined where none was. */
  readonly missing: string | undefined;
}

/** The runners named in a project's logs and weeks, sorted. */
export function runnersOf({ practice, runs, weeks }: Project): string[] {
  return namesIn([...practice, ...runs, ...weeks]);
}

/**
 * One runner's files; the files of all runners where several are named and none is chosen. That is enough to look up
 * what was written, but no basis for an estimate.
 */
export function runnerFilesOrAll(project: Project, chosen?: string): { own: RunnerFiles; chosen: boolean } {
  const own = runnerFilesOf(project, chosen);
  if (!('runners' in own)) return { own, chosen: true };
  const { practice, runs } = project;
  return { own: { runner: undefined, practice, runs, week: undefined }, chosen: false };
}

/**
 * The logs and week of one runner. Files that name no runner count for every runner. Where nobody chose a runner, the
 * week file does.
 *
 * @param chosen the runner's name, needed only where several are named; left out: the one chosen for the project's folder
 */
export function runnerFilesOf(
  project: Project,
  chosen = project.chosenRunner,
): RunnerFiles | AmbiguousRunner {
  const runners = runnersOf(project);
  const runner = chosen ?? (runners.length === 1 ? runners[0] : runnerOfWeek(project));
  if (runner === undefined && runners.length > 1) return { runners, missing: undefined };
  if (chosen !== undefined && runners.length > 0 && !runners.includes(chosen))
    return { runners, missing: chosen };
  const mine = (file: { document: { runner: string | undefined } }) =>
    file.document.runner === undefined || file.document.runner === runner;
  const weeks = project.weeks.filter(mine);
  return {
    runner,
    practice: project.practice.filter(mine),
    runs: project.runs.filter(mine),
    // A week file that names the runner comes before one that names nobody.
    week: weeks.find(({ document }) => document.runner !== undefined) ?? weeks[0],
  };
}

/**
 * The runner whom the week files choose among those of the logs: the only one that they name. A name that no log has may
 * be mistyped, so it chooses nobody.
 */
export function runnerOfWeek({ practice, runs, weeks }: Project): string | undefined {
  const [runner, ...others] = namesIn(weeks);
  return others.length === 0 && runner !== undefined && namesIn([...practice, ...runs]).includes(runner)
    ? runner
    : undefined;
}

function namesIn(files: readonly { readonly document: { readonly runner: string | undefined } }[]): string[] {
  return [...new Set(files.flatMap(({ document }) => document.runner ?? []))].sort();
}
