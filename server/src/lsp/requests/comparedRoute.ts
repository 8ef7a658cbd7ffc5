import type { Steps } from '../../incremental/steps.ts';
import type { PanelParams } from '../../protocol/messages/panel.ts';
import { runInTurns, type StopSignal } from '../documents/eventLoop.ts';
import type { Connection } from 'vscode-languageserver';
import { requestOr } from '../../protocol/messages/message.ts';
import {
  readRevisionRequest,
  type ReadRevisionParams,
  type ReadRevisionResult,
} from '../../protocol/messages/clientFiles.ts';
import type { RouteRevision } from '../../protocol/routeRevision.ts';
import { isCommitName } from '../../git/isRevision.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { tooLargeMessage } from '../../queries/modelLimits.ts';
import { projectAtRevision } from '../../queries/projectAtRevision.ts';
import type { ComparedRoute } from '../../reports/compare/comparison.ts';
import { whoseLogsText } from '../../queries/whoseLogs.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { fileName, normalUri } from '../documents/uris.ts';
import { resolveForModel } from './resolveProject.ts';
import type { Refusal } from '../../protocol/refusal.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import type { WorkspaceSync } from '../documents/workspaceSync.ts';
import { fileAt } from '../documents/fileServices.ts';

export interface CompareNeeds {
  readonly workspace: Workspace;
  readonly sync: WorkspaceSync;
  readonly readRevision: ReadRevision;
}

/** Reads a file as it was at a revision. The client does this, since the client starts git. */
export type ReadRevision = (params: ReadRevisionParams) => Promise<ReadRevisionResult>;

/**
 * Asks the client for a file as it was at a revision. A client that cannot do this answers with a sentence that says
 * so.
 */
export function clientRevisionReader(connection: Connection): ReadRevision {
  return keepingCommits((params) =>
    requestOr(connection, readRevisionRequest, params, {
      message: 'This editor cannot read earlier versions.',
    }),
  );
}

/**
 * The same reader, which asks once for each file of a commit: what a commit holds never changes, and the panel compares anew
 * after each edit. A branch or a tag may move, so it is read each time. The files of one commit are kept.
 */
export function keepingCommits(read: ReadRevision): ReadRevision {
  let commit = '';
  const texts = new Map<string, ReadRevisionResult>();
  return async (params) => {
    const { uri, revision } = params;
    if (!isCommitName(revision)) return read(params);
    if (commit !== revision) texts.clear();
    commit = revision;
    const known = texts.get(uri);
    if (known) return known;
    const found = await read(params);
    if ('text' in found && commit === revision) texts.set(uri, found);
    return found;
  };
}

/** Answers a request of the panel in steps; the second argument is the route that is compared, where one was read. */
export type PanelAnswer<R> = (params: PanelParams, compared?: ComparedRoute | Refusal) => Steps<R>;

/**
 * Reads the route that a view compares, where there is time to compare, and then answers. The client reads a revision,
 * so that the answer cannot be in steps alone.
 */
export function withComparedRoute<R>(
  needs: CompareNeeds,
  answer: PanelAnswer<R>,
): (params: PanelParams, signal: StopSignal) => Promise<R> {
  return async (params, signal) => {
    const { view, compared, wait } = params;
    const other =
      view === 'compare' && compared !== undefined && wait ? await comparedRoute(needs, compared) : undefined;
    return runInTurns(answer(params, other), signal);
  };
}

/** A route that is to be compared, as it is or as it was at a revision; or why it cannot be. */
async function comparedRoute(
  needs: CompareNeeds,
  { uri, revision }: RouteRevision,
): Promise<ComparedRoute | Refusal> {
  const name = fileName(uri);
  // The server may not have been told of a new file: no editor in a browser watches a folder that it cannot search.
  if (fileAt(needs.workspace, uri) === undefined) await needs.sync.filesChanged([uri]);
  const today = fileAt(needs.workspace, uri);
  if (today !== undefined && today.kind !== 'route')
    return { message: `${name} is no route; routes are what can be compared.` };
  if (revision === undefined) {
    const resolved = resolveForModel(needs.workspace, uri);
    return 'message' in resolved ? resolved : { label: name, ...resolved };
  }
  const address = normalUri(uri);
  const project = needs.workspace.projectOf(address);
  const former = await projectAtRevision(
    address,
    (other) => needs.readRevision({ uri: other, revision }),
    project,
  );
  if ('message' in former)
    return { message: `${name} at ${sanitizeForTerminal(revision)}: ${former.message}` };
  const tooLarge = tooLargeMessage(former.project);
  if (tooLarge !== undefined) return { message: tooLarge };
  const own = runnerFilesOf(former.project);
  if ('runners' in own)
    return {
      message: `${sanitizeForTerminal(whoseLogsText(own))} Choose whose logs count, then compare again.`,
    };
  const ownToday = project && runnerFilesOf(project);
  const ran = ownToday && !('runners' in ownToday) ? { project, own: ownToday } : undefined;
  return { label: `${name} at ${sanitizeForTerminal(revision)}`, project: former.project, own, today: ran };
}
