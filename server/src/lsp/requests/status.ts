import type { StatusParams, StatusResult } from '../../protocol/messages/findings.ts';
import { filesOf } from '../../workspace/workspace.ts';
import { routeName } from './rank.ts';
import type { Session } from '../server/session.ts';

/** The route a file belongs to, and the errors and warnings in all of the route's files. */
export function statusOf(session: Session, { uri }: StatusParams): StatusResult {
  const file = session.file(uri);
  if (!file) return { route: null, problems: 0 };
  const project = session.workspace.projectOf(file.uri);
  const uris = new Set(project ? filesOf(project).map((other) => other.uri) : [file.uri]);
  const problems = [...uris]
    .flatMap((other) => session.findings.of(other))
    .filter(({ severity }) => severity !== 'hint').length;
  return { route: project ? routeName(project) : null, problems };
}
