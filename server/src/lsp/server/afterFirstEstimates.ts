import type { CancellationToken } from 'vscode-languageserver';
import type { Workspace } from '../../workspace/workspace.ts';
import { fileAt } from '../documents/fileServices.ts';
import type { WorkspaceSync } from '../documents/workspaceSync.ts';
import type { FirstEstimates } from '../estimates/firstEstimates.ts';
import type { InlineEstimates } from '../estimates/inlineEstimates.ts';

export interface FirstEstimatesNeeds {
  readonly workspace: Workspace;
  readonly sync: Pick<WorkspaceSync, 'ready'>;
  readonly inlineEstimates: InlineEstimates;
  readonly firstEstimates: FirstEstimates;
}

/**
 * A provider that answers once the route of its file has its first numbers. A client that the server cannot ask to
 * request them again would otherwise show none until the next edit.
 */
export function afterFirstEstimates<P extends { readonly textDocument: { readonly uri: string } }, R>(
  { workspace, sync, inlineEstimates, firstEstimates }: FirstEstimatesNeeds,
  provider: (params: P) => R,
): (params: P, token: CancellationToken) => Promise<R> {
  return async (params, token) => {
    const file = fileAt(workspace, params.textDocument.uri);
    const project = file?.kind === 'route' ? workspace.projectOf(file.uri) : undefined;
    if (project && !inlineEstimates.of(project)) {
      await firstEstimates.available(project, token);
      // An edit may have arrived in the meantime.
      await sync.ready();
    }
    return provider(params);
  };
}
