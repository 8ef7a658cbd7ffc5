import type { Moment } from '../../text/calendar.ts';
import type { Project } from '../../workspace/project.ts';
import { ownPractice } from './ownFiles.ts';
import type { SourceRef } from './sourceRef.ts';

/** When an entry of a log began, and where that is written. */
export interface EntryStart {
  readonly moment: Moment;
  readonly place: SourceRef;
}

/** The starts of each of a project's own logs, file by file, in the order in which they are written. */
export function entryStarts(project: Project): EntryStart[][] {
  return [
    ...ownPractice(project).map(({ uri, document }) =>
      document.sessions.map(({ start, path }) => startAt(uri, start, [...path, 'start'])),
    ),
    ...project.runs.map(({ uri, document }) =>
      document.runs.map(({ kind, start, path }) =>
        startAt(uri, start, [...path, kind === 'run' ? 'start' : 'date']),
      ),
    ),
  ];
}

function startAt(uri: string, moment: Moment, path: SourceRef['path']): EntryStart {
  return { moment, place: { uri, path, part: 'value' } };
}
