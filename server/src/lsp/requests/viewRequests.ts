import type { Connection } from 'vscode-languageserver';
import { compareRequest, oddsRequest, reviewRequest } from '../../protocol/messages/views.ts';
import { answerRequest } from '../../protocol/messages/message.ts';
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
  answerRequest(
    connection,
    oddsRequest,
    boundary.request('Run odds', async (params) => {
      await yieldToEventLoop();
      return oddsView(session, params);
    }),
  );
  answerRequest(
    connection,
    reviewRequest,
    boundary.request('A review', async (params) => {
      await yieldToEventLoop();
      return reviewView(session, params);
    }),
  );
  answerRequest(
    connection,
    compareRequest,
    boundary.request('A comparison', async (params) => {
      await yieldToEventLoop();
      return compareView(session, params, readRevision);
    }),
  );
}
