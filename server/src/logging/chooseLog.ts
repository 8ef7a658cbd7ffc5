import { minutesPerDay, type Moment } from '../text/calendar.ts';
import { routeUri } from '../workspace/groupFiles.ts';
import type { Project, SourceFile } from '../workspace/project.ts';
import { runnersOf, type RunnerFiles } from '../workspace/runnerFiles.ts';
import { newFileStem } from '../workspace/runnerFolder.ts';
import type { LogKind } from './newLog.ts';

/** The log that entries go into. */
export interface ChosenLog {
  readonly uri: string;
  /** Whether it does not exist yet: it is then begun beside the runner's other files, or the route. */
  readonly isNew: boolean;
}

/**
 * The log that entries of a route go into: the one that the user named, else the one with the latest entry (of equals
 * the last by name), else a new one (`newFileStem`). Where several runners are named, a log that names the runner
 * comes before one that names nobody.
 *
 * @param own the runner's own files of the project
 * @param asked URI of the file that the user named; ignored where it is not a log
 */
export function chooseLog(
  project: Project,
  own: RunnerFiles,
  kind: LogKind,
  asked: string | undefined,
): ChosenLog {
  const { route } = project;
  const files: readonly DatedLog[] =
    kind === 'practice'
      ? own.practice.map((file) => ({ ...file, last: latestStart(file.document.sessions) }))
      : own.runs.map((file) => ({ ...file, last: latestStart(file.document.runs) }));
  const ofRoute = files.filter(({ uri, document }) => routeUri(uri, document.route) === route.uri);
  const given = ofRoute.find(({ uri }) => uri === asked);
  // Where several runners share the route, what a log that names nobody holds would count for each of them.
  const named = runnersOf(project).length > 1 ? ofRoute.filter(({ document }) => document.runner) : [];
  const newest = [...(named.length > 0 ? named : ofRoute)]
    .sort((a, b) => a.last - b.last || (a.uri < b.uri ? -1 : 1))
    .at(-1);
  const found = given ?? newest;
  return found
    ? { uri: found.uri, isNew: false }
    : { uri: `${newFileStem(project, own)}.${kind}.yaml`, isNew: true };
}

type DatedLog = SourceFile<{ readonly route: string | undefined; readonly runner: string | undefined }> & {
  readonly last: number;
};

function latestStart(entries: readonly { readonly start: Moment }[]): number {
  return entries.reduce(
    (last, { start: { date, minute } }) => Math.max(last, date * minutesPerDay + (minute ?? 0)),
    Number.NEGATIVE_INFINITY,
  );
}
