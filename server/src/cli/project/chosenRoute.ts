import { closestWord } from '../../text/closestWord.ts';
import { locateFindings } from '../../reports/check/checkReport.ts';
import { formatPosition } from '../../reports/check/checkText.ts';
import { formatCount, formatList } from '../../text/format.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { currentTechniqueId, type Project } from '../../workspace/project.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { Request } from '../terminal/arguments.ts';
import { checkSelection, unknownRunnerMessage } from '../commands/findings.ts';
import { printNotice, type Io } from '../terminal/io.ts';
import { loadFiles, type LoadedFiles, type InputError } from './loadFiles.ts';
import { relativeNames } from '../terminal/paths.ts';
import { reportRefused } from '../terminal/reportRefused.ts';
import { reportWaiting } from '../terminal/reportWaiting.ts';

/** The one route that a command speaks of, and whose logs. */
export interface ChosenRoute {
  readonly project: Project;
  readonly own: RunnerFiles;
  readonly loaded: LoadedFiles;
}

/**
 * Loads what a command was given and finds the one route in it. Files that could not be read, errors in those that
 * could, and what waits in a journal are told on stderr.
 *
 * @param verb what is to be done with the route, as the command is called
 */
export async function chooseRoute(request: Request, io: Io, verb: string): Promise<ChosenRoute | InputError> {
  const loaded = await loadFiles(io.cwd, request.paths);
  if ('message' in loaded) return loaded;
  const runner = request.values.get('runner');
  reportRefused(loaded, io);
  reportErrors(loaded, io, runner);
  const where = request.paths.join(', ') || 'this folder';
  const chosen = requireOneRoute(loaded, where, io, verb, runner);
  if ('message' in chosen) return chosen;
  reportWaiting(chosen.own, io);
  return { ...chosen, loaded };
}

/** The one route among what was loaded and whose it is, or a sentence that says why there is none. */
export function requireOneRoute(
  loaded: LoadedFiles,
  where: string,
  io: Io,
  verb: string,
  runner: string | undefined,
): { readonly project: Project; readonly own: RunnerFiles } | InputError {
  const { projects } = loaded.select();
  const nameOf = relativeNames(io.cwd);
  const [project] = projects;
  if (!project)
    return { message: `There is no route to ${verb} in ${where}. Begin one with: routewright new FOLDER` };
  if (projects.length > 1) {
    const names = projects.map(({ route }) => nameOf(route.uri));
    return {
      message: `There are several routes: ${formatList(names)}. Name one: routewright ${verb} ${names[0]}`,
    };
  }
  const stranger = unknownRunnerMessage(projects, runner);
  if (stranger !== undefined) return { message: stranger };
  const own = runnerFilesOf(project, runner);
  if ('runners' in own) {
    const names = formatList(own.runners);
    return { message: `The logs hold several runners: ${names}. Name one: --runner ${own.runners[0]}` };
  }
  return { project, own };
}

/** Errors worth a line each before the answer; the rest is for `check`. */
const maxErrorsShown = 5;

/** What the files say wrong is left out of the answer, so that must not go unsaid. */
export function reportErrors(loaded: LoadedFiles, io: Io, runner: string | undefined): void {
  const { findings } = checkSelection(loaded.workspace, loaded.select(), {
    asked: undefined,
    runner,
    forecast: false,
  });
  // Whose logs to use is said in its own words.
  const errors = findings.filter(({ severity, code }) => severity === 'error' && code !== 'several-runners');
  if (errors.length === 0) return;
  const textOf = (uri: string) => loaded.workspace.file(uri)?.reading.text;
  for (const { file, range, message } of locateFindings(
    errors.slice(0, maxErrorsShown),
    textOf,
    relativeNames(io.cwd),
  ))
    printNotice(
      io,
      `${sanitizeForTerminal(file)}:${formatPosition(range.start)}  error  ${sanitizeForTerminal(message)}`,
    );
  const what = errors.length === 1 ? 'it concerns' : 'they concern';
  printNotice(
    io,
    `${formatCount(errors.length, 'error')} in these files: what ${what} may be missing from the answer.`,
  );
}

/** Game, category and file, as a title. */
export function titleOf({ route }: Project, io: Io): string {
  const { game, category } = route.document;
  const name = relativeNames(io.cwd)(route.uri);
  return `${game ?? 'No game named'}, ${category ?? 'no category named'} (${name})`;
}

/** The ids by which the route knows some written techniques today, or a sentence about one that it does not know. */
export function knownTechniques(
  project: Project,
  written: readonly string[],
  option: string,
): readonly string[] | InputError {
  const ids: string[] = [];
  for (const id of written) {
    const current = currentTechniqueId(project, id);
    if (current === undefined) {
      const meant = closestWord(id, [...project.techniques.keys()]);
      return {
        message: `--${option}: the route has no technique ${sanitizeForTerminal(id)}.${meant ? ` Did you mean ${meant}?` : ''}`,
      };
    }
    ids.push(current);
  }
  return ids;
}

export function isInputError(value: object): value is InputError {
  return 'message' in value;
}
