import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import { chooseLog } from '../../logging/chooseLog.ts';
import { logVocabularyOf } from '../../logging/logVocabulary.ts';
import { filesOf, Workspace } from '../../workspace/workspace.ts';
import { nodeFileSource } from '../../workspace/nodeFileSource.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { Project } from '../../workspace/project.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { Io } from '../terminal/io.ts';
import { loadFiles } from '../project/loadFiles.ts';
import { cliError, type CliError } from '../terminal/cliError.ts';
import { beginLog } from './beginLog.ts';
import { cacheTarget, cachedTarget, targetKey, type LogTarget } from './logTarget.ts';
import { pathOf, uriOf } from '../terminal/paths.ts';
import { reportUnread } from '../project/reportUnread.ts';
import { requireOneRoute } from '../project/requireOneRoute.ts';

/**
 * Determines which files entries go into: the logs given, otherwise the latest of the runner's logs of the route. For a
 * route without a practice file, one is created.
 *
 * @param written the file or folder given; undefined means the current folder
 */
export async function findTarget(
  io: Io,
  state: string,
  written: string | undefined,
  runner: string | undefined,
): Promise<LogTarget | CliError> {
  const place = targetKey(io.cwd, written, runner);
  const again = await refreshCachedTarget(state, place, runner);
  if (again) return again;
  const loaded = await loadFiles(io.cwd, written === undefined ? [] : [written]);
  if ('message' in loaded) return loaded;
  reportUnread(loaded, io);
  const found = requireOneRoute(loaded, written ?? 'this folder', io, 'log', runner);
  if ('message' in found) return found;
  const { project, own } = found;
  const route = pathOf(project.route.uri);
  const given = written === undefined ? undefined : uriOf(resolve(io.cwd, written));
  const practice = chooseLog(project, own, 'practice', given);
  const runs = chooseLog(project, own, 'runs', given);
  const practicePath = pathOf(practice.uri);
  const problem = practice.isNew ? beginLog(practicePath, route, own.runner) : undefined;
  if (problem !== undefined) return cliError(problem);
  const target = targetOf(project, own, practicePath, pathOf(runs.uri));
  const read = filesOf(project).map(({ uri }) => pathOf(uri));
  if (!loaded.incomplete) cacheTarget(state, place, target, [...read, practicePath]);
  return target;
}

/**
 * Where only routes and weeks changed since the target was cached, the logs are the same: only routes and weeks are
 * read again, since logs may be long. Undefined where these files do not determine the target.
 */
async function refreshCachedTarget(
  state: string,
  place: string,
  runner: string | undefined,
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
  if (!complete || !own || 'runners' in own) return undefined;
  const target = targetOf(project, own, kept.practice, kept.runs);
  cacheTarget(state, place, target, [...paths, ...kept.folders.map(([path]) => join(path, 'any'))]);
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
