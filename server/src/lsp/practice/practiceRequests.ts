import { ErrorCodes, ResponseError, type Connection, type WorkspaceEdit } from 'vscode-languageserver';
import {
  correctCycleRequest,
  keepJournalRequest,
  keptJournalRequest,
  logBlockRequest,
  logRunRequest,
  practiceAttemptRequest,
  practiceChangedNotification,
  practiceEndRequest,
  practiceOfferRequest,
  practiceStandRequest,
  practiceStartRequest,
  practiceTakeBackRequest,
  runReviewRequest,
  type BlockParams,
  type CorrectCycleParams,
  type KeepJournalParams,
  type KeepJournalResult,
  type KeptJournalParams,
  type KeptJournalResult,
  type LogBlockParams,
  type LogRunParams,
  type PracticeAttemptParams,
  type PracticeChangedParams,
  type PracticeEndParams,
  type PracticeOfferParams,
  type PracticeStartParams,
  type RunReviewParams,
} from '../../protocol/practice.ts';
import type { Boundary } from '../server/errorBoundary.ts';
import { breathe } from '../documents/eventLoop.ts';
import { PanelReports } from '../estimates/panelReports.ts';
import { endBlock, logAttempt, standOf, startBlock, takeBack } from './blocks.ts';
import { correctCycle } from './correctCycle.ts';
import type { LogJournals } from '../../journal/logJournal.ts';
import { keptJournals } from '../../journal/storageJournals.ts';
import { PracticeLogs } from './practiceLogs.ts';
import { practiceOffer } from './practiceOffer.ts';
import { runReview } from './runReview.ts';
import { logBlock, logRun } from './completeEntries.ts';
import type { Session } from '../server/session.ts';

/** Answers everything about practice as it happens. Returns the logs, which are to be told of files. */
export function answerPractice(
  connection: Connection,
  session: Session,
  boundary: Boundary,
  journals: LogJournals,
): PracticeLogs {
  const apply = (edit: WorkspaceEdit, label: string): Promise<boolean> =>
    connection.workspace.applyEdit({ label, edit }).then(({ applied }) => applied);
  const logs = new PracticeLogs(session, journals, {
    appliesEdits: () => session.client.appliesEdits,
    apply,
    tell: (sentence) => void connection.window.showInformationMessage(sentence),
    changed: (uri) => {
      const params: PracticeChangedParams = { uri };
      void connection.sendNotification(practiceChangedNotification, params);
    },
    work: (name, run) => void boundary.work(name, run),
  });
  const reports = new PanelReports(session.estimates);
  connection.onRequest(
    practiceOfferRequest,
    boundary.request('What to practise', async (params: PracticeOfferParams) => {
      if (params.plan) await breathe();
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
    boundary.request('Taking back an attempt', (params: BlockParams) => takeBack(logs, params)),
  );
  connection.onRequest(
    practiceStandRequest,
    boundary.request('Counting a block', (params: BlockParams) => standOf(logs, params)),
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
      await breathe();
      return runReview(session, params);
    }),
  );
  connection.onDidSaveTextDocument(
    boundary.notice('A saved log', ({ textDocument, text }) =>
      text === undefined ? undefined : logs.saved(textDocument.uri, text),
    ),
  );
  return logs;
}

/** Journals that the client keeps, for files on no disk. A client that knows nothing of them keeps nothing. */
export function clientJournals(connection: Connection): LogJournals {
  async function ask<R>(method: string, params: KeepJournalParams | KeptJournalParams, none: R): Promise<R> {
    try {
      return await connection.sendRequest<R>(method, params);
    } catch (error) {
      if (error instanceof ResponseError && error.code === ErrorCodes.MethodNotFound) return none;
      throw error;
    }
  }
  return keptJournals({
    keep: (uri, text) =>
      ask<KeepJournalResult>(keepJournalRequest, { uri, text }, 'this editor has no storage for it'),
    kept: (uri) => ask<KeptJournalResult>(keptJournalRequest, { uri }, null),
  });
}
