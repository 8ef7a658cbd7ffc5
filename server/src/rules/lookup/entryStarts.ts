import type { Moment } from '../../files/documents/documents.ts';
import type { Project } from '../../workspace/project.ts';
import { ownPractice } from './ownFiles.ts';
import type { PlaceIn } from '../engine/rule.ts';

/** When an entry of a log began, and where that is written. */
export interface Start {
  readonly moment: Moment;
  readonly place: PlaceIn;
}

/** The starts of each of a project's own logs, file by file, in the order in which they are written. */
export function startsIn(project: Project): Start[][] {
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

function startAt(uri: string, moment: Moment, path: PlaceIn['path']): Start {
  return { moment, place: { uri, path, part: 'value' } };
}
