import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { platform } from 'node:process';
import { isInside } from '../../disk/reach.ts';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import { chooseLog } from '../../logging/chooseLog.ts';
import { logVocabularyOf } from '../../logging/logVocabulary.ts';
import { filesOf, Workspace } from '../../workspace/workspace.ts';
import { nodeFileSource } from '../../workspace/nodeFileSource.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { Project } from '../../workspace/project.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { Io } from '../terminal/io.ts';
import { type LoadedFiles, loadFiles } from '../project/loadFiles.ts';
import { cliError, type CliError, isCliError } from '../terminal/cliError.ts';
import { beginLog } from './beginLog.ts';
import { lastNamed } from './lastUsed.ts';
import { logOfSettings, settingsFile } from './settings.ts';
import { cacheTarget, cachedTarget, targetKey, type LogTarget } from './logTarget.ts';
import { pathOf, uriOf } from '../terminal/paths.ts';
import { reportUnread } from '../project/reportUnread.ts';
import { requireOneRoute } from '../project/requireOneRoute.ts';

/**
 * Determines which files entries go into: the logs given, otherwise the latest of the runner's logs of the route. Where
 * none is given, that is the route near the current folder, of several the one named last here; without a route the one
 * that the person's settings name. For a route without a practice file, one is created.
 *
 * @param written the file or folder given; undefined means what is near the current folder
 */
export async function findTarget(
  io: Io,
  state: string,
  written: string | undefined,
  runner: string | undefined,
): Promise<LogTarget | CliError> {
  const place = targetKey(io.cwd, written, runner);
  const again = await refreshCachedTarget(state, place, runner, io.cwd);
  if (again) return again;
  const settings = settingsFile(io.env, platform);
  const asked = written ?? lastNamed(state, io.cwd, runner);
  let named = asked;
  let found = await loadRoute(io, asked, runner);
  if (asked === undefined && isCliError(found)) {
    const set = await logOfSettings(settings);
    if (isCliError(set)) return set;
    if (set === undefined && found.none)
      return cliError(
        `Nothing was logged. Name a log with --to FILE, or as log: FILE in ${settings}. ${found.message}`,
      );
    // Of several routes here none is left aside for one elsewhere.
    if (set !== undefined && (found.none || isInside(io.cwd, set))) {
      named = set;
      found = await loadRoute(io, set, runner);
      if (isCliError(found)) return cliError(`${found.message} (named in ${settings})`);
    }
  }
  if (isCliError(found)) return found;
  const { project, own, loaded } = found;
  const route = pathOf(project.route.uri);
  const given = named === undefined ? undefined : uriOf(resolve(io.cwd, named));
  const practice = chooseLog(project, own, 'practice', given);
  const runs = chooseLog(project, own, 'runs', given);
  const practicePath = pathOf(practice.uri);
  const problem = practice.isNew ? beginLog(practicePath, route, own.runner) : undefined;
  if (problem !== undefined) return cliError(problem);
  const target = targetOf(project, own, practicePath, pathOf(runs.uri));
  const read = filesOf(project).map(({ uri }) => pathOf(uri));
  if (!loaded.incomplete)
    cacheTarget(
      state,
      place,
      target,
      [...read, practicePath],
      io.cwd,
      named === asked ? undefined : settings,
    );
  return target;
}

/** The route of a file or folder, or of what is near; an error says whether there was none, and not several. */
async function loadRoute(
  io: Io,
  named: string | undefined,
  runner: string | undefined,
): Promise<
  | { readonly project: Project; readonly own: RunnerFiles; readonly loaded: LoadedFiles }
  | (CliError & { readonly none: boolean })
> {
  const loaded = await loadFiles(io, named === undefined ? [] : [named]);
  if (isCliError(loaded)) return { ...loaded, none: false };
  reportUnread(loaded, io);
  const found = requireOneRoute(loaded, named ?? 'this folder', io, 'log', runner);
  return isCliError(found) ? { ...found, none: loaded.select().projects.length === 0 } : { ...found, loaded };
}

/**
 * Where only routes and weeks changed since the target was cached, the logs are the same: only routes and weeks are
 * read again, since logs may be long. Undefined where these files do not determine the target.
 */
async function refreshCachedTarget(
  state: string,
  place: string,
  runner: string | undefined,
  cwd: string,
): Promise<LogTarget | undefined> {
  const kept = cachedTarget(state, place);
  if (!kept || !existsSync(kept.practice)) return undefined;
  const workspace = new Workspace(
    nodeFileSource(),
    kept.folders.map(([path]) => uriOf(path)),
  );
  const paths = kept.files.map(([path]) => path);
  for (const path of paths) await workspace.reload(uriOf(path));
  const uris = new Set(paths.map(uriOf));
  const complete = workspace.all().every((file) => {
    const extended = file.kind === 'route' ? routeUri(file.uri, file.document.extends) : undefined;
    return !file.reading.unread && (extended === undefined || uris.has(extended));
  });
  const project = workspace.groups().projects.find(({ route }) => pathOf(route.uri) === kept.route);
  const own = project && runnerFilesOf(project, runner);
  // Whose logs they are may be written in a week file that has changed, or in the logs, which are not read here.
  if (!complete || !own || 'runners' in own || own.runner !== kept.runner) return undefined;
  const target = targetOf(project, own, kept.practice, kept.runs);
  const read = [...paths, ...kept.folders.map(([path]) => join(path, 'any'))];
  cacheTarget(state, place, target, read, cwd, kept.settings?.[0]);
  return target;
}

function targetOf(project: Project, own: RunnerFiles, practice: string, runs: string): LogTarget {
  return {
    ...logVocabularyOf(project),
    practice,
    runs,
    route: pathOf(project.route.uri),
    runner: own.runner,
    cycles: Object.fromEntries(
      [...project.techniques].map(([id, { practice: at }]) => [id, at.attempt + at.reload]),
    ),
    dayStarts: dayStartsOf(own),
  };
}
