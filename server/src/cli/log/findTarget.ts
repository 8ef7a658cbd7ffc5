import { existsSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { fileKindOf, stemOf } from '../../files/fileKind.ts';
import { toFailure } from '../../journal/failure.ts';
import { filesOf, Workspace } from '../../workspace/workspace.ts';
import type { Moment } from '../../text/calendar.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { Project, SourceFile } from '../../workspace/project.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import { scalarToYaml } from '../../journal/entryYaml.ts';
import { diskFiles, type Refusals } from '../project/diskFiles.ts';
import type { Io } from '../terminal/io.ts';
import { loadFiles } from '../project/loadFiles.ts';
import { cliError, type CliError } from '../terminal/cliError.ts';
import { cacheTarget, cachedTarget, targetKey, type LogTarget } from './logTarget.ts';
import { pathOf, uriOf } from '../terminal/paths.ts';
import { reportRefused } from '../project/reportRefused.ts';
import { requireOneRoute } from '../project/requireOneRoute.ts';

/**
 * Works out where entries go: into the logs given, else into the latest of the runner's logs of the route. A route
 * without a practice file gets one.
 *
 * @param written the file or folder given; the current folder where none is
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
  reportRefused(loaded, io);
  const found = requireOneRoute(loaded, written ?? 'this folder', io, 'log', runner);
  if ('message' in found) return found;
  const { project, own } = found;
  const route = pathOf(project.route.uri);
  const given = written === undefined ? undefined : uriOf(resolve(io.cwd, written));
  const ofRoute = (file: SourceFile<{ readonly route: string | undefined }>) =>
    file.document.route !== undefined && resolve(dirname(pathOf(file.uri)), file.document.route) === route;
  const practice = latestLogPath(
    own.practice.filter(ofRoute),
    ({ document }) => document.sessions.map(({ start }) => start),
    given,
  );
  const runs = latestLogPath(
    own.runs.filter(ofRoute),
    ({ document }) => document.runs.map(({ start }) => start),
    given,
  );
  const practicePath = practice ?? `${stemOf(route)}.practice.yaml`;
  const problem = practice === undefined ? createLogFile(practicePath, route, own.runner) : undefined;
  if (problem !== undefined) return cliError(problem);
  const target = targetOf(project, own, practicePath, runs ?? `${stemOf(route)}.runs.yaml`);
  const read = filesOf(project).map(({ uri }) => pathOf(uri));
  if (loaded.refused.length === 0) cacheTarget(state, place, target, [...read, practicePath]);
  return target;
}

/**
 * Where only routes and weeks were changed since the target was worked out, which logs it has is known: only the former
 * are read again, for logs may be long. Undefined where that does not tell.
 */
async function refreshCachedTarget(
  state: string,
  place: string,
  runner: string | undefined,
): Promise<LogTarget | undefined> {
  const kept = cachedTarget(state, place);
  if (!kept || !existsSync(kept.practice)) return undefined;
  const refusals: Refusals = new Map();
  const workspace = new Workspace(diskFiles(refusals));
  const paths = kept.files.map(([path]) => path);
  for (const path of paths) await workspace.reload(uriOf(path));
  workspace.setFolders(kept.folders.map(([path]) => uriOf(path)));
  const uris = new Set(paths.map(uriOf));
  const complete = workspace.all().every((file) => {
    const extended = file.kind === 'route' ? routeUri(file.uri, file.document.extends) : undefined;
    return extended === undefined || uris.has(extended);
  });
  const project = workspace.groups().projects.find(({ route }) => pathOf(route.uri) === kept.route);
  const own = project && runnerFilesOf(project, runner);
  if (refusals.size > 0 || !complete || !own || 'runners' in own) return undefined;
  const target = targetOf(project, own, kept.practice, kept.runs);
  cacheTarget(state, place, target, [...paths, ...kept.folders.map(([path]) => join(path, 'any'))]);
  return target;
}

function targetOf(project: Project, own: RunnerFiles, practice: string, runs: string): LogTarget {
  const techniques = [...project.techniques.keys()];
  return {
    practice,
    runs,
    route: pathOf(project.route.uri),
    techniques: Object.fromEntries([...project.renamed, ...techniques.map((id) => [id, id] as const)]),
    segments: project.segments.map(({ id }) => id),
    cycles: Object.fromEntries(
      [...project.techniques].map(([id, { practice: at }]) => [id, at.attempt + at.reload]),
    ),
    dayStarts: own.week?.document.dayStarts ?? weekDefaults.dayStarts,
  };
}

/** The path of the file given, else of the one with the latest entry; of equals the last by name. */
function latestLogPath<F extends { readonly uri: string }>(
  files: readonly F[],
  startsOf: (file: F) => readonly Moment[],
  given: string | undefined,
): string | undefined {
  const named = files.find(({ uri }) => uri === given);
  if (named) return pathOf(named.uri);
  const lastOf = (file: F) =>
    startsOf(file).reduce((last, { date, minute }) => Math.max(last, date * 1440 + (minute ?? 0)), -Infinity);
  const sorted = [...files].sort((a, b) => lastOf(a) - lastOf(b) || (a.uri < b.uri ? -1 : 1));
  const last = sorted.at(-1);
  return last && pathOf(last.uri);
}

/** Begins a log beside its route. Returns a sentence where that cannot be. */
export function createLogFile(path: string, route: string, runner: string | undefined): string | undefined {
  if (existsSync(path))
    return `${basename(path)} exists, but is no log of ${basename(route)}: see its route: line.`;
  const kind = fileKindOf(path);
  const lines = [`route: ${scalarToYaml(basename(route))}`];
  if (runner !== undefined) lines.push(`runner: ${scalarToYaml(runner)}`);
  const text = [...lines, kind === 'runs' ? 'runs: []' : 'sessions: []', ''].join('\n');
  try {
    writeFileSync(path, text, { flag: 'wx' });
    return undefined;
  } catch (error) {
    return `${basename(path)} cannot be written: ${toFailure(error).reason}.`;
  }
}
