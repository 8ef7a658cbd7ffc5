import {
  DidChangeWatchedFilesNotification,
  type Connection,
  type InitializeParams,
} from 'vscode-languageserver';
import { fileKinds, fileKindOf } from '../../files/fileKind.ts';
import {
  filesReadNotification,
  findingsChangedNotification,
  statusRequest,
} from '../../protocol/messages/findings.ts';
import { rankRequest } from '../../protocol/messages/rank.ts';
import {
  rulesNotification,
  todayNotification,
  type InitializationOptions,
} from '../../protocol/messages/settings.ts';
import { starterRequest } from '../../protocol/messages/starter.ts';
import { setStateRequest } from '../../protocol/messages/week.ts';
import type { FileSource } from '../../workspace/fileSource.ts';
import { starterFiles } from '../../workspace/starterFiles.ts';
import { answerRequest, takeNotification } from '../../protocol/messages/message.ts';
import { ErrorBoundary } from './errorBoundary.ts';
import { registerEditingRequests, refreshInlineEstimates } from '../editing/editingRequests.ts';
import { normalUri } from '../documents/openDocuments.ts';
import { yieldToEventLoop } from '../documents/eventLoop.ts';
import { registerPanelRequests } from '../requests/panelRequests.ts';
import type { LogJournals } from '../../journal/logJournal.ts';
import type { PracticeLogs } from '../practice/practiceLogs.ts';
import { registerPracticeRequests } from '../practice/practiceRequests.ts';
import { rankRoute } from '../requests/rank.ts';
import { Session, type ClientFeatures } from './session.ts';
import { setState } from '../requests/setState.ts';
import { statusOf } from '../requests/status.ts';
import { registerViewRequests } from '../requests/viewRequests.ts';

/** All files that can belong to a route, as a pattern for whoever watches a folder. */
const watchedFilesGlob = `**/*.{${fileKinds.join(',')}}.{yaml,yml}`;

/**
 * Serves one client over a connection, from its greeting, which is answered, until it says goodbye.
 *
 * @param hello what the client said of itself
 * @param source how files reach the server that the client has not opened
 * @param journals where attempts are kept until the saved file holds them
 */
export function startServer(
  connection: Connection,
  hello: InitializeParams,
  source: FileSource,
  journals: LogJournals,
): void {
  const session = new Session({
    source,
    publish: (params) => void connection.sendDiagnostics(params),
    published: () => void connection.sendNotification(findingsChangedNotification, {}),
    checked: () => void connection.sendNotification(filesReadNotification, {}),
    inlineEstimatesChanged: () =>
      void boundary.background('New numbers', () => refreshInlineEstimates(connection, session)),
    runGuarded: (name, run) => void boundary.background(name, run),
  });
  session.client = clientFeaturesOf(hello);
  const options = initializationOptionsOf(hello);
  session.setToday(options?.today);
  session.setRules(options?.rules);
  const boundary: ErrorBoundary = new ErrorBoundary(connection.console, () => session.ready());
  const logs = registerPracticeRequests(connection, session, boundary, journals);
  registerFileNotifications(connection, hello, session, boundary, logs);
  registerEditingRequests(connection, session, boundary);
  registerRequests(connection, session, boundary);
  registerViewRequests(connection, session, boundary);
  registerPanelRequests(connection, session, boundary);
  connection.onShutdown(() => {
    logs.dispose();
    session.dispose();
  });
}

function registerFileNotifications(
  connection: Connection,
  hello: InitializeParams,
  session: Session,
  boundary: ErrorBoundary,
  logs: PracticeLogs,
): void {
  // Older clients name one folder only, by a field that is no longer described.
  const { rootUri } = hello as { rootUri?: string | null };
  const named = hello.workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []);
  const folders = new Set(named.map(folderUri));
  const { workspace } = hello.capabilities;
  const watches = workspace?.didChangeWatchedFiles?.dynamicRegistration === true;
  const followsFolders = workspace?.workspaceFolders === true;

  connection.onInitialized(
    boundary.notification('Opening the folders', async () => {
      if (followsFolders) {
        connection.workspace.onDidChangeWorkspaceFolders(
          boundary.notification('A change of folders', ({ added, removed }) => {
            for (const { uri } of removed) folders.delete(folderUri(uri));
            for (const { uri } of added) folders.add(folderUri(uri));
            return session.setFolders([...folders]);
          }),
        );
      }
      // Watched while they are read, so that no change falls between the two.
      const options = { watchers: [{ globPattern: watchedFilesGlob }] };
      const watching = watches && connection.client.register(DidChangeWatchedFilesNotification.type, options);
      await session.setFolders([...folders]);
      await watching;
      await logs.recover();
      logs.reportLeftBehind([...folders]);
    }),
  );
  connection.onDidChangeWatchedFiles(
    boundary.notification('A change on the disk', async ({ changes }) => {
      const ours = changes.filter(({ uri }) => fileKindOf(uri));
      await Promise.all(ours.map(({ uri }) => session.fileChanged(uri)));
    }),
  );
  connection.onDidOpenTextDocument(
    boundary.notification('Opening a file', async ({ textDocument }) => {
      await session.open(textDocument);
      await logs.opened(textDocument.uri);
    }),
  );
  connection.onDidChangeTextDocument(
    boundary.notification('An edit', ({ textDocument, contentChanges }) =>
      session.change(textDocument.uri, contentChanges, textDocument.version),
    ),
  );
  connection.onDidCloseTextDocument(
    boundary.notification('Closing a file', async ({ textDocument }) => {
      await session.close(textDocument.uri);
      await logs.closed(textDocument.uri);
    }),
  );
  takeNotification(
    connection,
    todayNotification,
    boundary.notification('The date', ({ today }) => session.setToday(today)),
  );
  takeNotification(
    connection,
    rulesNotification,
    boundary.notification('The rules', ({ rules }) => session.setRules(rules)),
  );
}

function initializationOptionsOf({
  initializationOptions,
}: InitializeParams): InitializationOptions | undefined {
  return initializationOptions as InitializationOptions | undefined;
}

function clientFeaturesOf(hello: InitializeParams): ClientFeatures {
  const { workspace, textDocument } = hello.capabilities;
  return {
    annotations: workspace?.workspaceEdit?.changeAnnotationSupport !== undefined,
    snippets: textDocument?.completion?.completionItem?.snippetSupport === true,
    labelDetails: textDocument?.completion?.completionItem?.labelDetailsSupport === true,
    appliesEdits: workspace?.applyEdit === true,
    createsFiles: workspace?.workspaceEdit?.resourceOperations?.includes('create') === true,
    refreshLenses: workspace?.codeLens?.refreshSupport === true,
    refreshHints: workspace?.inlayHint?.refreshSupport === true,
    showsInPanel: initializationOptionsOf(hello)?.showsInPanel === true,
  };
}

function registerRequests(connection: Connection, session: Session, boundary: ErrorBoundary): void {
  answerRequest(
    connection,
    rankRequest,
    boundary.request('Ranking', async (params) => {
      // A ranking can take a while: a cancellation that is on its way is heard first.
      await yieldToEventLoop();
      return rankRoute(session, params);
    }),
  );
  answerRequest(
    connection,
    setStateRequest,
    boundary.request('Setting a state', (params) => setState(session, params)),
  );
  answerRequest(
    connection,
    starterRequest,
    boundary.request('Creating a route', ({ game }) => ({
      files: starterFiles(game, 'any%'),
    })),
  );
  answerRequest(
    connection,
    statusRequest,
    boundary.request('Status', (params) => {
      session.checkPendingEdits();
      return statusOf(session, params);
    }),
  );
}

/** A folder's URI as the workspace wants it: with no slash at its end. */
function folderUri(uri: string): string {
  return normalUri(uri).replace(/\/+$/, '');
}
