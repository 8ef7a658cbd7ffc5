import { type AnswerDay, answerDayOf } from '../../queries/answerDay.ts';
import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { reportErrors } from '../checking/reportErrors.ts';
import { loadFiles } from '../project/loadFiles.ts';
import { requireRouteForModel } from '../project/requireOneRoute.ts';
import { type CliError, isCliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { reportWaiting } from '../terminal/reportWaiting.ts';
import type { RouteRequest } from './routeRequest.ts';

/** The one route that a command answers about, with the logs of one runner. */
export interface ChosenRoute {
  readonly asked: RouteRequest;
  readonly project: Project;
  readonly own: RunnerFiles;
  /** The day that the answer is for. */
  readonly answerDay: AnswerDay;
  /** Whether a file of the route could not be read, so that the answer may lack something. */
  readonly incomplete: boolean;
}

/**
 * Loads the files that a command was given and finds the one route in them, with the day to answer for. Reports on stderr the errors
 * in them, such as a file that was not read, and entries that wait in a journal.
 */
export async function chooseRoute(asked: RouteRequest, io: Io): Promise<ChosenRoute | CliError> {
  const { verb, paths, runner, asOf } = asked;
  const loaded = await loadFiles(io, paths);
  if (isCliError(loaded)) return loaded;
  reportErrors(loaded, io, runner);
  const chosen = requireRouteForModel(loaded, paths.join(', ') || 'this folder', io, verb, runner);
  if (isCliError(chosen)) return chosen;
  reportWaiting(chosen.own, io);
  const answerDay = answerDayOf(chosen.own, { now: io.now(), asked: asOf });
  return { ...chosen, asked, answerDay, incomplete: loaded.incomplete };
}
