import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { reportErrors } from '../checking/reportErrors.ts';
import { reportWaiting } from '../terminal/reportWaiting.ts';
import { type LoadedFiles, loadFiles } from '../project/loadFiles.ts';
import { reportRefused } from '../project/reportRefused.ts';
import { requireOneRoute } from '../project/requireOneRoute.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CliError, isCliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';

/** The one route that a command answers about, with the logs of one runner. */
export interface ChosenRoute {
  readonly project: Project;
  readonly own: RunnerFiles;
  readonly loaded: LoadedFiles;
}

/**
 * Loads the files that a command was given and finds the one route in them. Reports on stderr which files could not be
 * read, errors in the others, and entries that wait in a journal.
 *
 * @param verb the command's name, for the sentence of an error
 */
export async function chooseRoute(request: Request, io: Io, verb: string): Promise<ChosenRoute | CliError> {
  const loaded = await loadFiles(io.cwd, request.paths);
  if (isCliError(loaded)) return loaded;
  const runner = request.values.get('runner');
  reportRefused(loaded, io);
  reportErrors(loaded, io, runner);
  const where = request.paths.join(', ') || 'this folder';
  const chosen = requireOneRoute(loaded, where, io, verb, runner);
  if (isCliError(chosen)) return chosen;
  reportWaiting(chosen.own, io);
  return { ...chosen, loaded };
}
