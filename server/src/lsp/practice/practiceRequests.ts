import type { Connection, WorkspaceEdit } from 'vscode-languageserver';
import { readJournalRequest, writeJournalRequest } from '../../protocol/messages/clientFiles.ts';
import { logBlockRequest, logRunRequest } from '../../protocol/messages/logEntry.ts';
import {
  correctCycleRequest,
  countedAttemptsRequest,
  practiceAttemptRequest,
  practiceChangedNotification,
  practiceEndRequest,
  practiceStartRequest,
  practiceTakeBackRequest,
} from '../../protocol/messages/practiceBlock.ts';
import { practiceOfferRequest } from '../../protocol/messages/practiceOffer.ts';
import { runReviewRequest } from '../../protocol/messages/views.ts';
import { answerRequest, requestOr } from '../../protocol/messages/message.ts';
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
    changed: (uri) => void connection.sendNotification(practiceChangedNotification, { uri }),
    runGuarded: (name, run) => void boundary.background(name, run),
  });
  const reports = new PanelReports(session.estimates);
  answerRequest(
    connection,
    practiceOfferRequest,
    boundary.request('What to practise', async (params) => {
      if (params.plan) await yieldToEventLoop();
      return practiceOffer(session, reports, logs, params);
    }),
  );
  answerRequest(
    connection,
    practiceStartRequest,
    boundary.request('Beginning a block', (params) => startBlock(logs, params)),
  );
  answerRequest(
    connection,
    practiceAttemptRequest,
    boundary.request('Logging an attempt', (params) => logAttempt(logs, params)),
  );
  answerRequest(
    connection,
    practiceTakeBackRequest,
    boundary.request('Taking back an attempt', (params) => undoAttempt(logs, params)),
  );
  answerRequest(
    connection,
    countedAttemptsRequest,
    boundary.request('Counting a block', (params) => countedAttempts(logs, params)),
  );
  answerRequest(
    connection,
    practiceEndRequest,
    boundary.request('Ending a block', (params) => endBlock(logs, params)),
  );
  answerRequest(
    connection,
    correctCycleRequest,
    boundary.request('Correcting a cycle', async (params) => {
      const { edit, message } = correctCycle(session, params);
      if (!edit || (await apply(edit, 'Correct the cycle'))) return { message };
      return { message: 'The route is being changed; nothing was written. Try again in a moment.' };
    }),
  );
  answerRequest(
    connection,
    logBlockRequest,
    boundary.request('Logging a block', (params) => logBlock(session, logs, params)),
  );
  answerRequest(
    connection,
    logRunRequest,
    boundary.request('Logging a run', (params) => logRun(session, logs, params)),
  );
  answerRequest(
    connection,
    runReviewRequest,
    boundary.request('What a run changed', async (params) => {
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
  return storageJournals({
    save: (uri, text) =>
      requestOr(connection, writeJournalRequest, { uri, text }, 'this editor has no storage for it'),
    load: (uri) => requestOr(connection, readJournalRequest, { uri }, null),
  });
}
