import { minutesPerDay, type Moment } from '../text/calendar.ts';
import { routeUri } from '../workspace/groupFiles.ts';
import type { Project, SourceFile } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { newLogName, type LogKind } from './newLog.ts';

/** The log that entries go into. */
export interface ChosenLog {
  readonly uri: string;
  /** Whether it does not exist yet: it is then begun in the route's folder. */
  readonly isNew: boolean;
}

/**
 * The log that entries of a route go into: the one that the user named, else the one with the latest entry (of equals
 * the last by name), else a new one in the route's folder.
 *
 * @param own the runner's own files of the project
 * @param asked URI of the file that the user named; ignored where it is not a log
 */
export function chooseLog(
  { route }: Project,
  own: RunnerFiles,
  kind: LogKind,
  asked: string | undefined,
): ChosenLog {
  const files: readonly DatedLog[] =
    kind === 'practice'
      ? own.practice.map((file) => ({ ...file, last: latestStart(file.document.sessions) }))
      : own.runs.map((file) => ({ ...file, last: latestStart(file.document.runs) }));
  const ofRoute = files.filter(({ uri, document }) => routeUri(uri, document.route) === route.uri);
  const given = ofRoute.find(({ uri }) => uri === asked);
  const newest = [...ofRoute].sort((a, b) => a.last - b.last || (a.uri < b.uri ? -1 : 1)).at(-1);
  const found = given ?? newest;
  return found ? { uri: found.uri, isNew: false } : { uri: newLogName(route.uri, kind), isNew: true };
}

type DatedLog = SourceFile<{ readonly route: string | undefined }> & { readonly last: number };

function latestStart(entries: readonly { readonly start: Moment }[]): number {
  return entries.reduce(
    (last, { start: { date, minute } }) => Math.max(last, date * minutesPerDay + (minute ?? 0)),
    Number.NEGATIVE_INFINITY,
  );
}
