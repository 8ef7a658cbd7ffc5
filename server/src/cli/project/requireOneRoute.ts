import { tooLargeMessage } from '../../queries/modelLimits.ts';
import { whoseLogsText } from '../../queries/whoseLogs.ts';
import { formatList } from '../../text/format.ts';
import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { runnerFilesOf, runnersOf } from '../../workspace/runnerFiles.ts';

import { cliError, type CliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';
import { shellWord } from '../terminal/shellWord.ts';
import type { LoadedFiles } from './loadFiles.ts';

/**
 * The one route among the loaded files, with the logs and the week of one runner.
 *
 * @param where what was loaded, for the sentence of an error
 * @param verb the command's name, for the command that an error suggests
 */
export function requireOneRoute(
  loaded: LoadedFiles,
  where: string,
  io: Io,
  verb: string,
  runner: string | undefined,
): { readonly project: Project; readonly own: RunnerFiles } | CliError {
  const { projects } = loaded.select();
  const nameOf = relativeNames(io.cwd);
  const [project] = projects;
  if (!project) return cliError(`There is no route in ${where}. Begin one with: routewright new FOLDER`);
  if (projects.length > 1) {
    const names = projects.map(({ route }) => nameOf(route.uri));
    return cliError(
      `There are several routes: ${formatList(names)}. Name one: routewright ${verb} ${shellWord(names[0]!)}`,
    );
  }
  const unknownRunner = unknownRunnerError(projects, runner);
  if (unknownRunner) return unknownRunner;
  const own = runnerFilesOf(project, runner);
  if ('runners' in own) {
    return cliError(`${whoseLogsText(own)} Name one: --runner ${shellWord(own.runners[0]!)}`);
  }
  return { project, own };
}

/** The same for a command that the model answers: a route that is beyond its limits is an error. */
export function requireRouteForModel(
  ...asked: Parameters<typeof requireOneRoute>
): ReturnType<typeof requireOneRoute> {
  const chosen = requireOneRoute(...asked);
  const tooLarge = 'project' in chosen ? tooLargeMessage(chosen.project) : undefined;
  return tooLarge === undefined ? chosen : cliError(tooLarge);
}

/** The error for a runner whom no log names. */
export function unknownRunnerError(
  projects: readonly Project[],
  runner: string | undefined,
): CliError | undefined {
  const names = [...new Set(projects.flatMap(runnersOf))].sort();
  if (runner === undefined || names.length === 0 || names.includes(runner)) return undefined;
  return cliError(whoseLogsText({ runners: names, missing: runner }));
}
