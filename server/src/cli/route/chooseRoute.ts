import { stateFolder } from '../../journal/journalPaths.ts';
import { type AnswerDay, answerDayOf } from '../../queries/answerDay.ts';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { reportErrors } from '../checking/reportErrors.ts';
import { loadFiles } from '../project/loadFiles.ts';
import { datedLooksOf } from '../project/looks.ts';
import { requireRouteForModel } from '../project/requireOneRoute.ts';
import { type CliError, isCliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { pathOf } from '../terminal/paths.ts';
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
  const chosen = requireRouteForModel(loaded, paths.join(', ') || 'this folder', io, verb, runner);
  // Of several routes only one is meant, and nobody asked about errors in the others.
  if (loaded.select().projects.length < 2) reportErrors(loaded, io, runner);
  if (isCliError(chosen)) return chosen;
  reportWaiting(chosen.own, io);
  await tellLooks(chosen.own, asOf, io);
  const answerDay = answerDayOf(chosen.own, { now: io.now(), asked: asOf });
  return { ...chosen, asked, answerDay, incomplete: loaded.incomplete };
}

/** Tells what the answer depends on besides the files: the journals, and where no day was asked for, today. */
async function tellLooks(own: RunnerFiles, asOf: RouteRequest['asOf'], io: Io): Promise<void> {
  if (io.looked === undefined) return;
  const looks = datedLooksOf(io);
  const state = stateFolder(io.env, process.platform);
  for (const { uri } of [...own.practice, ...own.runs]) await looks.journal(state, pathOf(uri));
  if (typeof asOf !== 'number') await looks.day(dayStartsOf(own));
}
