import type { Project, WeekFile, PracticeFile, RunsFile } from './project.ts';

/** The logs and the week file of one runner in a project. */
export interface RunnerFiles {
  readonly runner: string | undefined;
  readonly practice: readonly PracticeFile[];
  readonly runs: readonly RunsFile[];
  readonly week: WeekFile | undefined;
}

/** The logs are by several runners, and none of them was chosen. */
export interface AmbiguousRunner {
  readonly runners: readonly string[];
}

/** The runners named in a project's logs and weeks, sorted. */
export function runnersOf({ practice, runs, weeks }: Project): string[] {
  const names = [...practice, ...runs, ...weeks].flatMap(({ document }) => document.runner ?? []);
  return [...new Set(names)].sort();
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
 * The logs and week of one runner. Files that name no runner count for every runner.
 *
 * @param chosen the runner's name; needed only where several are named
 */
export function runnerFilesOf(project: Project, chosen?: string): RunnerFiles | AmbiguousRunner {
  const runners = runnersOf(project);
  const runner = chosen ?? (runners.length === 1 ? runners[0] : undefined);
  if (runner === undefined && runners.length > 1) return { runners };
  if (chosen !== undefined && runners.length > 0 && !runners.includes(chosen)) return { runners };
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
