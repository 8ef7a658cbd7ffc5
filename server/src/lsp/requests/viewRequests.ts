import type { Connection } from 'vscode-languageserver';
import {
  compareRequest,
  oddsRequest,
  reviewRequest,
  type CompareParams,
  type OddsParams,
  type ReviewParams,
} from '../../protocol/views.ts';
import type { Boundary } from '../server/errorBoundary.ts';
import { compareView, revisionsOf } from './compare.ts';
import { oddsView } from './odds.ts';
import { breathe } from '../documents/eventLoop.ts';
import { reviewView } from './review.ts';
import type { Session } from '../server/session.ts';

/** Answers the requests for views in words. Each can take a while: a cancellation on its way is heard first. */
export function answerViews(connection: Connection, session: Session, boundary: Boundary): void {
  const readRevision = revisionsOf(connection);
  connection.onRequest(
    oddsRequest,
    boundary.request('Run odds', async (params: OddsParams) => {
      await breathe();
      return oddsView(session, params);
    }),
  );
  connection.onRequest(
    reviewRequest,
    boundary.request('A review', async (params: ReviewParams) => {
      await breathe();
      return reviewView(session, params);
    }),
  );
  connection.onRequest(
    compareRequest,
    boundary.request('A comparison', async (params: CompareParams) => {
      await breathe();
      return compareView(session, params, readRevision);
    }),
  );
}
