import { locate, type Path } from '../../files/yaml/tree.ts';
import { toValue } from '../../files/yaml/value.ts';
import { minutesPerDay } from '../../text/calendar.ts';
import { ownPractice, runnerOf } from './ownFiles.ts';
import type { LookupContext } from './lookupContext.ts';
import type { SourceRef } from './sourceRef.ts';

/** A session, run or evening of a log, with when it began and how long it took. */
export interface LoggedEntry {
  readonly kind: 'session' | 'run' | 'evening';
  readonly uri: string;
  readonly path: Path;
  /** Where its beginning is written. */
  readonly place: SourceRef;
  readonly runner: string;
  /** Minutes since 1970-01-01 on the runner's clock; undefined where no time of day is written. */
  readonly from: number | undefined;
  /** The minutes that it took, at least. */
  readonly minutes: number;
  /** Day number by the calendar. */
  readonly date: number;
}

/** All entries of the logs that name a project's own route. */
export function loggedEntries(context: LookupContext): LoggedEntry[] {
  const { project } = context;
  const found: LoggedEntry[] = [];
  for (const file of ownPractice(project)) {
    const runner = runnerOf(context, file);
    for (const { path, start, blocks } of file.document.sessions) {
      const minutes = blocks.reduce((sum, block) => sum + block.minutes, 0);
      const place: SourceRef = { uri: file.uri, path: [...path, 'start'], part: 'value' };
      found.push({ kind: 'session', uri: file.uri, path, place, runner, ...clockMinutes(start), minutes });
    }
  }
  for (const file of project.runs) {
    const runner = runnerOf(context, file);
    for (const { kind, path, start, total, times } of file.document.runs) {
      const seconds = Math.max(
        total ?? 0,
        times.reduce((sum, time) => sum + time.seconds, 0),
      );
      const key = kind === 'run' ? 'start' : 'date';
      const place: SourceRef = { uri: file.uri, path: [...path, key], part: 'value' };
      found.push({ kind, uri: file.uri, path, place, runner, ...clockMinutes(start), minutes: seconds / 60 });
    }
  }
  return found;
}

function clockMinutes({ date, minute }: { readonly date: number; readonly minute: number | undefined }): {
  date: number;
  from: number | undefined;
} {
  return { date, from: minute === undefined ? undefined : date * minutesPerDay + minute };
}

/** What is written at a path of a file; '' where nothing is. */
export function sourceValueAt({ project }: LookupContext, uri: string, path: Path): string {
  const file = [...project.practice, ...project.runs].find((one) => one.uri === uri);
  const place = file && locate(file.reading.tree, path);
  return place?.exact ? JSON.stringify(toValue(place.tree)) : '';
}
