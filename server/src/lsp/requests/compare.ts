import type { Connection } from 'vscode-languageserver';
import { requestOr } from '../../protocol/messages/message.ts';
import {
  readRevisionRequest,
  type ReadRevisionParams,
  type ReadRevisionResult,
} from '../../protocol/messages/clientFiles.ts';
import type { CompareParams, RouteRevision, ViewResult } from '../../protocol/messages/views.ts';
import { comparePage } from '../../reports/compare/compareText.ts';
import { pageMarkdown } from '../../reports/page.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { projectAtRevision } from '../../queries/projectAtRevision.ts';
import { compareRoutes, type ComparedRoute } from '../../reports/compare/comparison.ts';
import { mergedNamesOf } from '../../queries/names.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { normalUri } from '../documents/openDocuments.ts';
import { resolveProject } from './rank.ts';
import { fileName, type Session } from '../server/session.ts';

/** Reads a file as it was: the client's part, since it starts git. */
export type ReadRevision = (params: ReadRevisionParams) => Promise<ReadRevisionResult>;

/** Asks the client for a file as it was; a client that cannot says so. */
export function clientRevisionReader(connection: Connection): ReadRevision {
  return (params) =>
    requestOr(connection, readRevisionRequest, params, {
      message: 'This editor cannot read earlier versions.',
    });
}

/** Two routes held against each other, as a page; or why they cannot be. */
export async function compareView(
  session: Session,
  { a: first, b: second }: CompareParams,
  readRevision: ReadRevision,
): Promise<ViewResult> {
  const a = await comparedRoute(session, first, readRevision);
  if ('message' in a) return a;
  const b = await comparedRoute(session, second, readRevision);
  if ('message' in b) return b;
  const { report, logsOf } = compareRoutes(a, b, { asOf: session.estimates.day(b.own), with: [] });
  const page = comparePage(report, {
    title: 'Two routes compared',
    basis: `For the morning of ${report.asOf}.`,
    ...mergedNamesOf(a.project, b.project),
    logsOf,
  });
  return { markdown: pageMarkdown(page) };
}

async function comparedRoute(
  session: Session,
  { uri, revision }: RouteRevision,
  readRevision: ReadRevision,
): Promise<ComparedRoute | { message: string }> {
  const name = fileName(uri);
  const today = session.file(uri);
  if (today !== undefined && today.kind !== 'route')
    return { message: `${name} is no route; routes are what can be compared.` };
  if (revision === undefined) {
    const asked = resolveProject(session, uri);
    return 'message' in asked ? asked : { label: name, ...asked };
  }
  const address = normalUri(uri);
  const former = await projectAtRevision(
    address,
    (other) => readRevision({ uri: other, revision }),
    session.workspace.projectOf(address),
  );
  if ('message' in former)
    return { message: `${name} at ${sanitizeForTerminal(revision)}: ${former.message}` };
  const own = runnerFilesOf(former.project);
  if ('runners' in own) return { message: 'The logs name several runners, so the two cannot be compared.' };
  return { label: `${name} at ${sanitizeForTerminal(revision)}`, project: former.project, own };
}
