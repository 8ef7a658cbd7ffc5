import { folderOf } from './folderOf.ts';
import type { Project, WeekFile, PracticeFile, RunsFile } from './project.ts';

/**
 * Why the files of one runner count: `chosen` by a person, `asked` about by a file or folder of theirs, `only` one named,
 * files `beside` the route, or named by the `week` file.
 */
export type RunnerReason = 'chosen' | 'asked' | 'only' | 'beside' | 'week';

/** The logs and the week file of one runner in a project. */
export interface RunnerFiles {
  readonly runner: string | undefined;
  /** Why this runner's files count, where the project names several; left out where there is nobody else. */
  readonly reason?: RunnerReason | undefined;
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
export function runnersOf(project: Project): string[] {
  return namesIn(filesOfRunners(project));
}

/**
 * One runner's files, also where the files of several are asked about, but it is known whose count for the route. The
 * files of all runners where that is not known either: they are enough to look up what was written, but no basis for an
 * estimate.
 */
export function runnerFilesOrAll(project: Project, chosen?: string): { own: RunnerFiles; chosen: boolean } {
  const asked = runnerFilesOf(project, chosen);
  const own = 'runners' in asked ? runnerFilesOf({ ...project, askedRunners: undefined }, chosen) : asked;
  if (!('runners' in own)) return { own, chosen: true };
  const { practice, runs } = project;
  return { own: { runner: undefined, practice, runs, week: undefined }, chosen: false };
}

/**
 * Who says whose files count: the first that names a runner is followed. What lies beside the route comes before the week
 * files: whoever adds a folder with files of their own changes no answer of the others.
 */
const deciders: readonly (readonly [RunnerReason, (project: Project) => string | undefined])[] = [
  ['chosen', ({ chosenRunner }) => chosenRunner],
  ['asked', ({ askedRunners }) => (askedRunners?.length === 1 ? askedRunners[0] : undefined)],
  ['only', (project) => onlyName(filesOfRunners(project))],
  ['beside', (project) => ifMeant(project, onlyName(filesBesideRoute(project)))],
  ['week', (project) => ifMeant(project, onlyName(project.weeks))],
];

/**
 * The logs and week of one runner. Files that name no runner count for every runner.
 *
 * @param chosen the runner's name, needed only where several are named; left out: the one chosen for the project's folder
 */
export function runnerFilesOf(
  project: Project,
  chosen = project.chosenRunner,
): RunnerFiles | AmbiguousRunner {
  const runners = runnersOf(project);
  if (chosen !== undefined && runners.length > 0 && !runners.includes(chosen))
    return { runners, missing: chosen };
  const found = whoCounts({ ...project, chosenRunner: chosen });
  if (found === undefined && runners.length > 1) return { runners, missing: undefined };
  const { runner, reason } = found ?? {};
  const mine = (file: NamingFile) => file.document.runner === undefined || file.document.runner === runner;
  const weeks = project.weeks.filter(mine);
  return {
    runner,
    ...(runners.length > 1 && { reason }),
    practice: project.practice.filter(mine),
    runs: project.runs.filter(mine),
    // A week file that names the runner comes before one that names nobody.
    week: weeks.find(({ document }) => document.runner !== undefined) ?? weeks[0],
  };
}

/**
 * The runners whom a command or a request is about.
 *
 * @param given whether a URI is that of a file that is asked about
 * @returns their names, sorted; undefined where none of these files names anybody
 */
export function askedRunnersOf(
  project: Project,
  given: (uri: string) => boolean,
): readonly string[] | undefined {
  const names = namesIn(filesOfRunners(project).filter(({ uri }) => given(uri)));
  return names.length > 0 ? names : undefined;
}

interface NamingFile {
  readonly uri: string;
  readonly document: { readonly runner: string | undefined };
}

function whoCounts(project: Project): { runner: string; reason: RunnerReason } | undefined {
  for (const [reason, decide] of deciders) {
    const runner = decide(project);
    if (runner !== undefined) return { runner, reason };
  }
  return undefined;
}

function filesOfRunners({ practice, runs, weeks }: Project): readonly NamingFile[] {
  return [...practice, ...runs, ...weeks];
}

function filesBesideRoute(project: Project): readonly NamingFile[] {
  const start = `${folderOf(project.route.uri)}/`;
  return filesOfRunners(project).filter(
    ({ uri }) => uri.lastIndexOf('/') + 1 === start.length && uri.startsWith(start),
  );
}

/**
 * A name that no log has may be mistyped, so it decides nothing; nor does that of somebody else where files of other
 * runners are asked about.
 */
function ifMeant({ practice, runs, askedRunners }: Project, runner: string | undefined): string | undefined {
  if (runner === undefined || askedRunners?.includes(runner) === false) return undefined;
  return namesIn([...practice, ...runs]).includes(runner) ? runner : undefined;
}

function onlyName(files: readonly NamingFile[]): string | undefined {
  const [name, ...others] = namesIn(files);
  return others.length === 0 ? name : undefined;
}

function namesIn(files: readonly NamingFile[]): string[] {
  return [...new Set(files.flatMap(({ document }) => document.runner ?? []))].sort();
}
