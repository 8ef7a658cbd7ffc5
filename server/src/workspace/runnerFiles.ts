import type { Project, WeekFile, PracticeFile, RunsFile } from './project.ts';

/** One runner's own part of a project. */
export interface RunnerFiles {
  readonly runner: string | undefined;
  readonly practice: readonly PracticeFile[];
  readonly runs: readonly RunsFile[];
  readonly week: WeekFile | undefined;
}

/** Several runners' logs lie together and nobody said whose to use. */
export interface AmbiguousRunner {
  readonly runners: readonly string[];
}

/** The runners named in a project's logs and weeks, sorted. */
export function runnersOf({ practice, runs, weeks }: Project): string[] {
  const names = [...practice, ...runs, ...weeks].flatMap(({ document }) => document.runner ?? []);
  return [...new Set(names)].sort();
}

/**
 * One runner's part of a project; all of it where several are named and none is chosen, which is enough for
 * looking at what was written, but no ground for an estimate.
 */
export function runnerFilesOrAll(project: Project, chosen?: string): { own: RunnerFiles; chosen: boolean } {
  const own = runnerFilesOf(project, chosen);
  if (!('runners' in own)) return { own, chosen: true };
  const { practice, runs } = project;
  return { own: { runner: undefined, practice, runs, week: undefined }, chosen: false };
}

/**
 * The logs and week of one runner. Files that name nobody belong to whoever asks.
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
    // A week that names the runner is nearer than one that names nobody.
    week: weeks.find(({ document }) => document.runner !== undefined) ?? weeks[0],
  };
}
