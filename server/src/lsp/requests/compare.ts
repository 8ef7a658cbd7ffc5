import { runInTurns, type StopSignal } from '../documents/eventLoop.ts';
import type { Connection } from 'vscode-languageserver';
import { requestOr } from '../../protocol/messages/message.ts';
import {
  readRevisionRequest,
  type ReadRevisionParams,
  type ReadRevisionResult,
} from '../../protocol/messages/clientFiles.ts';
import type { CompareParams, RouteRevision, ViewResult } from '../../protocol/messages/views.ts';
import { comparePage } from '../../reports/compare/compareText.ts';
import { dayText } from '../../reports/basisText.ts';
import { pageMarkdown } from '../../reports/page.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { tooLargeMessage } from '../../queries/modelLimits.ts';
import { projectAtRevision } from '../../queries/projectAtRevision.ts';
import { compareRoutesInSteps, type ComparedRoute } from '../../reports/compare/comparison.ts';
import { mergedNamesOf } from '../../queries/names.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { fileName, normalUri } from '../documents/uris.ts';
import { resolveForModel } from './resolveProject.ts';
import type { Refusal } from '../../protocol/refusal.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import { fileAt } from '../documents/fileServices.ts';
import type { Estimates } from '../estimates/estimates.ts';

export interface CompareNeeds {
  readonly workspace: Workspace;
  readonly estimates: Estimates;
  readonly readRevision: ReadRevision;
}

/** Reads a file as it was at a revision. The client does this, since the client starts git. */
export type ReadRevision = (params: ReadRevisionParams) => Promise<ReadRevisionResult>;

/**
 * Asks the client for a file as it was at a revision. A client that cannot do this answers with a sentence that says
 * so.
 */
export function clientRevisionReader(connection: Connection): ReadRevision {
  return (params) =>
    requestOr(connection, readRevisionRequest, params, {
      message: 'This editor cannot read earlier versions.',
    });
}

/** A comparison of two routes, as a page; or why they cannot be compared. */
export function compareHandler(
  needs: CompareNeeds,
): (params: CompareParams, signal: StopSignal) => Promise<ViewResult> {
  return ({ a, b }, signal) => compare(needs, a, b, signal);
}

async function compare(
  needs: CompareNeeds,
  first: RouteRevision,
  second: RouteRevision,
  signal: StopSignal,
): Promise<ViewResult> {
  const a = await comparedRoute(needs, first);
  if ('message' in a) return a;
  const b = await comparedRoute(needs, second);
  if ('message' in b) return b;
  const steps = compareRoutesInSteps(a, b, { day: needs.estimates.dayChoice(), with: [] });
  const { report, answerDay, logsOf, times, untried } = await runInTurns(steps, signal);
  const page = comparePage(report, {
    title: 'Two routes compared',
    basis: dayText(answerDay),
    ...mergedNamesOf(a.project, b.project),
    logsOf,
    times,
    untried,
  });
  return { markdown: pageMarkdown(page) };
}

async function comparedRoute(
  needs: CompareNeeds,
  { uri, revision }: RouteRevision,
): Promise<ComparedRoute | Refusal> {
  const name = fileName(uri);
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
  if ('runners' in own) return { message: 'The logs name several runners, so the two cannot be compared.' };
  const ownToday = project && runnerFilesOf(project);
  const ran = ownToday && !('runners' in ownToday) ? { project, own: ownToday } : undefined;
  return { label: `${name} at ${sanitizeForTerminal(revision)}`, project: former.project, own, today: ran };
}
