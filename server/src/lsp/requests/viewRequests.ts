import type { Connection } from 'vscode-languageserver';
import {
  compareRequest,
  oddsRequest,
  reviewRequest,
  type CompareParams,
  type OddsParams,
  type ReviewParams,
} from '../../protocol/views.ts';
import type { ErrorBoundary } from '../server/errorBoundary.ts';
import { compareView, clientRevisionReader } from './compare.ts';
import { oddsView } from './odds.ts';
import { yieldToEventLoop } from '../documents/eventLoop.ts';
import { reviewView } from './review.ts';
import type { Session } from '../server/session.ts';

/** Answers the requests for views in words. Each can take a while: a cancellation on its way is heard first. */
export function registerViewRequests(
  connection: Connection,
  session: Session,
  boundary: ErrorBoundary,
): void {
  const readRevision = clientRevisionReader(connection);
  connection.onRequest(
    oddsRequest,
    boundary.request('Run odds', async (params: OddsParams) => {
      await yieldToEventLoop();
      return oddsView(session, params);
    }),
  );
  connection.onRequest(
    reviewRequest,
    boundary.request('A review', async (params: ReviewParams) => {
      await yieldToEventLoop();
      return reviewView(session, params);
    }),
  );
  connection.onRequest(
    compareRequest,
    boundary.request('A comparison', async (params: CompareParams) => {
      await yieldToEventLoop();
      return compareView(session, params, readRevision);
    }),
  );
}
