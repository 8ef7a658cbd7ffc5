import { ErrorCodes, ResponseError, type Connection, type WorkspaceEdit } from 'vscode-languageserver';
import {
  correctCycleRequest,
  writeJournalRequest,
  readJournalRequest,
  logBlockRequest,
  logRunRequest,
  practiceAttemptRequest,
  practiceChangedNotification,
  practiceEndRequest,
  practiceOfferRequest,
  countedAttemptsRequest,
  practiceStartRequest,
  practiceTakeBackRequest,
  runReviewRequest,
  type BlockParams,
  type CorrectCycleParams,
  type WriteJournalParams,
  type WriteJournalResult,
  type ReadJournalParams,
  type ReadJournalResult,
  type LogBlockParams,
  type LogRunParams,
  type PracticeAttemptParams,
  type PracticeChangedParams,
  type PracticeEndParams,
  type PracticeOfferParams,
  type PracticeStartParams,
  type RunReviewParams,
} from '../../protocol/practice.ts';
import type { ErrorBoundary } from '../server/errorBoundary.ts';
import { yieldToEventLoop } from '../documents/eventLoop.ts';
import { PanelReports } from '../estimates/panelReports.ts';
import { endBlock, logAttempt, countedAttempts, startBlock, undoAttempt } from './blocks.ts';
import { correctCycle } from './correctCycle.ts';
import type { LogJournals } from '../../journal/logJournal.ts';
import { storageJournals } from '../../journal/storageJournals.ts';
import { PracticeLogs } from './practiceLogs.ts';
import { practiceOffer } from './practiceOffer.ts';
import { runReview } from './runReview.ts';
import { logBlock, logRun } from './completeEntries.ts';
import type { Session } from '../server/session.ts';

/** Answers everything about practice as it happens. Returns the logs, which are to be told of files. */
export function registerPracticeRequests(
  connection: Connection,
  session: Session,
  boundary: ErrorBoundary,
  journals: LogJournals,
): PracticeLogs {
  const apply = (edit: WorkspaceEdit, label: string): Promise<boolean> =>
    connection.workspace.applyEdit({ label, edit }).then(({ applied }) => applied);
  const logs = new PracticeLogs(session, journals, {
    appliesEdits: () => session.client.appliesEdits,
    apply,
    notify: (sentence) => void connection.window.showInformationMessage(sentence),
    changed: (uri) => {
      const params: PracticeChangedParams = { uri };
      void connection.sendNotification(practiceChangedNotification, params);
    },
    runGuarded: (name, run) => void boundary.background(name, run),
  });
  const reports = new PanelReports(session.estimates);
  connection.onRequest(
    practiceOfferRequest,
    boundary.request('What to practise', async (params: PracticeOfferParams) => {
      if (params.plan) await yieldToEventLoop();
      return practiceOffer(session, reports, logs, params);
    }),
  );
  connection.onRequest(
    practiceStartRequest,
    boundary.request('Beginning a block', (params: PracticeStartParams) => startBlock(logs, params)),
  );
  connection.onRequest(
    practiceAttemptRequest,
    boundary.request('Logging an attempt', (params: PracticeAttemptParams) => logAttempt(logs, params)),
  );
  connection.onRequest(
    practiceTakeBackRequest,
    boundary.request('Taking back an attempt', (params: BlockParams) => undoAttempt(logs, params)),
  );
  connection.onRequest(
    countedAttemptsRequest,
    boundary.request('Counting a block', (params: BlockParams) => countedAttempts(logs, params)),
  );
  connection.onRequest(
    practiceEndRequest,
    boundary.request('Ending a block', (params: PracticeEndParams) => endBlock(logs, params)),
  );
  connection.onRequest(
    correctCycleRequest,
    boundary.request('Correcting a cycle', async (params: CorrectCycleParams) => {
      const { edit, message } = correctCycle(session, params);
      if (!edit || (await apply(edit, 'Correct the cycle'))) return { message };
      return { message: 'The route is being changed; nothing was written. Try again in a moment.' };
    }),
  );
  connection.onRequest(
    logBlockRequest,
    boundary.request('Logging a block', (params: LogBlockParams) => logBlock(session, logs, params)),
  );
  connection.onRequest(
    logRunRequest,
    boundary.request('Logging a run', (params: LogRunParams) => logRun(session, logs, params)),
  );
  connection.onRequest(
    runReviewRequest,
    boundary.request('What a run changed', async (params: RunReviewParams) => {
      await yieldToEventLoop();
      return runReview(session, params);
    }),
  );
  connection.onDidSaveTextDocument(
    boundary.notification('A saved log', ({ textDocument, text }) =>
      text === undefined ? undefined : logs.saved(textDocument.uri, text),
    ),
  );
  return logs;
}

/** Journals that the client keeps, for files on no disk. A client that knows nothing of them keeps nothing. */
export function clientJournals(connection: Connection): LogJournals {
  async function ask<R>(method: string, params: WriteJournalParams | ReadJournalParams, none: R): Promise<R> {
    try {
      return await connection.sendRequest<R>(method, params);
    } catch (error) {
      if (error instanceof ResponseError && error.code === ErrorCodes.MethodNotFound) return none;
      throw error;
    }
  }
  return storageJournals({
    save: (uri, text) =>
      ask<WriteJournalResult>(writeJournalRequest, { uri, text }, 'this editor has no storage for it'),
    load: (uri) => ask<ReadJournalResult>(readJournalRequest, { uri }, null),
  });
}
