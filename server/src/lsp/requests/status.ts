import type { StatusParams, StatusResult } from '../../protocol/messages/findings.ts';
import { filesOf, type Workspace } from '../../workspace/workspace.ts';
import { routeName } from './resolveProject.ts';
import type { CheckScheduler } from '../checking/checkScheduler.ts';
import type { FindingStore } from '../checking/findingStore.ts';
import { fileAt } from '../documents/fileServices.ts';

export interface StatusNeeds {
  readonly workspace: Workspace;
  readonly findings: FindingStore;
  /** Files are checked again first, so that the count belongs to the latest text. */
  readonly checks: Pick<CheckScheduler, 'checkPendingEdits'>;
}

/** The route a file belongs to, and the errors and warnings in all of the route's files. */
export function statusHandler(needs: StatusNeeds): (params: StatusParams) => StatusResult {
  return ({ uri }) => {
    needs.checks.checkPendingEdits();
    const file = fileAt(needs.workspace, uri);
    if (!file) return { route: null, problems: 0 };
    const project = needs.workspace.projectOf(file.uri);
    const uris = new Set(project ? filesOf(project).map((other) => other.uri) : [file.uri]);
    const problems = [...uris]
      .flatMap((other) => needs.findings.of(other))
      .filter(({ severity }) => severity !== 'hint').length;
    return { route: project ? routeName(project) : null, problems };
  };
}
