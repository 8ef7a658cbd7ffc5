import type { Connection, WorkspaceEdit } from 'vscode-languageserver';
import {
  logBlockRequest,
  logEveningRequest,
  logRunRequest,
  runFormRequest,
} from '../../protocol/messages/logEntry.ts';
import { logTableRequest, previewLogTableRequest } from '../../protocol/messages/logTable.ts';
import {
  correctCycleRequest,
  countedAttemptsRequest,
  practiceAttemptRequest,
  practiceChangedNotification,
  practiceEndRequest,
  practiceStartRequest,
  practiceTakeBackRequest,
  techniqueNotesRequest,
} from '../../protocol/messages/practiceBlock.ts';
import { practiceOfferRequest } from '../../protocol/messages/practiceOffer.ts';
import { answerRequest } from '../../protocol/messages/message.ts';
import type { ErrorBoundary } from './errorBoundary.ts';
import { endBlock, logAttempt, countedAttempts, startBlock, undoAttempt } from '../practice/blocks.ts';
import { correctCycle } from '../practice/correctCycle.ts';
import type { LogJournals } from '../../journal/logJournal.ts';
import { PracticeLogs } from '../practice/practiceLogs.ts';
import { practiceOffer } from '../practice/practiceOffer.ts';
import { logBlock, logEvening, logRun } from '../practice/completeEntries.ts';
import { logTable, previewLogTable } from '../practice/logTable.ts';
import { runForm } from '../practice/runForm.ts';
import { techniqueNotes } from '../practice/techniqueNotes.ts';
import type { Services } from './services.ts';
import { tellPerson } from './tellPerson.ts';

/**
 * Registers the answers to all messages about practice. Returns the logs, which must be notified of opened, saved and
 * closed files.
 */
export function answerPractice(
  connection: Connection,
  services: Services,
  boundary: ErrorBoundary,
  journals: LogJournals,
): PracticeLogs {
  const apply = (edit: WorkspaceEdit, label: string): Promise<boolean> =>
    connection.workspace.applyEdit({ label, edit }).then(({ applied }) => applied);
  const logs = new PracticeLogs(services, journals, {
    appliesEdits: () => services.client.appliesEdits,
    apply,
    notify: (sentence) => tellPerson(connection, sentence),
    changed: (uri) => void connection.sendNotification(practiceChangedNotification, { uri }),
    runGuarded: (name, run) => void boundary.background(name, run),
  });
  answerRequest(
    connection,
    practiceOfferRequest,
    boundary.request('What to practise', (params, token) =>
      practiceOffer(services, services.panelReports, logs, params, token),
    ),
  );
  answerRequest(
    connection,
    practiceStartRequest,
    boundary.request('Beginning a block', (params) => startBlock(logs, params)),
  );
  answerRequest(
    connection,
    techniqueNotesRequest,
    boundary.request('Notes of a technique', (params) => techniqueNotes(services, params)),
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
      const { edit, message } = correctCycle(services, params);
      if (!edit || (await apply(edit, 'Correct the cycle'))) return { message };
      return { message: 'The route is being changed; nothing was written. Try again in a moment.' };
    }),
  );
  answerRequest(
    connection,
    logBlockRequest,
    boundary.request('Logging a block', (params) => logBlock(services, logs, params)),
  );
  answerRequest(
    connection,
    logRunRequest,
    boundary.request('Logging a run', (params) => logRun(services, logs, params)),
  );
  answerRequest(
    connection,
    logEveningRequest,
    boundary.request('Logging an evening', (params) => logEvening(services, logs, params)),
  );
  answerRequest(
    connection,
    previewLogTableRequest,
    boundary.request('Reading a table', (params) => previewLogTable(services, logs, params)),
  );
  answerRequest(
    connection,
    logTableRequest,
    boundary.request('Logging a table', (params) => logTable(services, logs, params)),
  );
  answerRequest(
    connection,
    runFormRequest,
    boundary.request('What a run consists of', (params, token) => runForm(services, params, token)),
  );
  return logs;
}
