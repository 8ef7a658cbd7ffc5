import { nearest } from '../../text/closestWord.ts';
import { placeFindings } from '../../reports/check/checkReport.ts';
import { spoken } from '../../reports/check/checkText.ts';
import { counted, listed } from '../../text/format.ts';
import { plainText } from '../../text/terminalText.ts';
import { currentId, type Project } from '../../workspace/project.ts';
import { ownPart, type Own } from '../../workspace/runnerFiles.ts';
import type { Request } from '../terminal/arguments.ts';
import { findIn, unknownRunner } from '../commands/findings.ts';
import { tell, type Io } from '../terminal/io.ts';
import { load, type Loaded, type Unusable } from './loadFiles.ts';
import { nameFrom } from '../terminal/paths.ts';
import { tellRefused } from '../terminal/reportRefused.ts';
import { tellWaiting } from '../log/waiting.ts';

/** The one route that a command speaks of, and whose logs. */
export interface Subject {
  readonly project: Project;
  readonly own: Own;
  readonly loaded: Loaded;
}

/**
 * Loads what a command was given and finds the one route in it. Files that could not be read, errors in those that
 * could, and what waits in a journal are told on stderr.
 *
 * @param verb what is to be done with the route, as the command is called
 */
export async function subjectOf(request: Request, io: Io, verb: string): Promise<Subject | Unusable> {
  const loaded = await load(io.cwd, request.paths);
  if ('message' in loaded) return loaded;
  const runner = request.values.get('runner');
  tellRefused(loaded, io);
  tellErrors(loaded, io, runner);
  const where = request.paths.join(', ') || 'this folder';
  const chosen = oneRoute(loaded, where, io, verb, runner);
  if ('message' in chosen) return chosen;
  tellWaiting(chosen.own, io);
  return { ...chosen, loaded };
}

/** The one route among what was loaded and whose it is, or a sentence that says why there is none. */
export function oneRoute(
  loaded: Loaded,
  where: string,
  io: Io,
  verb: string,
  runner: string | undefined,
): { readonly project: Project; readonly own: Own } | Unusable {
  const { projects } = loaded.select();
  const nameOf = nameFrom(io.cwd);
  const [project] = projects;
  if (!project)
    return { message: `There is no route to ${verb} in ${where}. Begin one with: routewright new FOLDER` };
  if (projects.length > 1) {
    const names = projects.map(({ route }) => nameOf(route.uri));
    return {
      message: `There are several routes: ${listed(names)}. Name one: routewright ${verb} ${names[0]}`,
    };
  }
  const stranger = unknownRunner(projects, runner);
  if (stranger !== undefined) return { message: stranger };
  const own = ownPart(project, runner);
  if ('runners' in own) {
    const names = listed(own.runners);
    return { message: `The logs hold several runners: ${names}. Name one: --runner ${own.runners[0]}` };
  }
  return { project, own };
}

/** Errors worth a line each before the answer; the rest is for `check`. */
const toldErrors = 5;

/** What the files say wrong is left out of the answer, so that must not go unsaid. */
export function tellErrors(loaded: Loaded, io: Io, runner: string | undefined): void {
  const { findings } = findIn(loaded.workspace, loaded.select(), {
    asked: undefined,
    runner,
    forecast: false,
  });
  // Whose logs to use is said in its own words.
  const errors = findings.filter(({ severity, code }) => severity === 'error' && code !== 'several-runners');
  if (errors.length === 0) return;
  const textOf = (uri: string) => loaded.workspace.file(uri)?.reading.text;
  for (const { file, range, message } of placeFindings(errors.slice(0, toldErrors), textOf, nameFrom(io.cwd)))
    tell(io, `${plainText(file)}:${spoken(range.start)}  error  ${plainText(message)}`);
  const what = errors.length === 1 ? 'it concerns' : 'they concern';
  tell(io, `${counted(errors.length, 'error')} in these files: what ${what} may be missing from the answer.`);
}

/** Game, category and file, as a title. */
export function titleOf({ route }: Project, io: Io): string {
  const { game, category } = route.document;
  const name = nameFrom(io.cwd)(route.uri);
  return `${game ?? 'No game named'}, ${category ?? 'no category named'} (${name})`;
}

/** The ids by which the route knows some written techniques today, or a sentence about one that it does not know. */
export function knownTechniques(
  project: Project,
  written: readonly string[],
  option: string,
): readonly string[] | Unusable {
  const ids: string[] = [];
  for (const id of written) {
    const current = currentId(project, id);
    if (current === undefined) {
      const meant = nearest(id, [...project.techniques.keys()]);
      return {
        message: `--${option}: the route has no technique ${plainText(id)}.${meant ? ` Did you mean ${meant}?` : ''}`,
      };
    }
    ids.push(current);
  }
  return ids;
}

export function isUnusable(value: object): value is Unusable {
  return 'message' in value;
}
