import {
  DidChangeWatchedFilesNotification,
  type Connection,
  type InitializeParams,
} from 'vscode-languageserver';
import { fileKinds, fileKindOf } from '../../files/fileKind.ts';
import { folderUri } from '../documents/uris.ts';
import type { WorkspaceSync } from '../documents/workspaceSync.ts';
import type { PracticeLogs } from '../practice/practiceLogs.ts';
import type { ErrorBoundary } from './errorBoundary.ts';
import { foldersOf } from './greeting.ts';

/** A pattern for all files that can belong to a route, for watching a folder. */
const watchedFilesGlob = `**/*.{${fileKinds.join(',')}}.{yaml,yml}`;

/**
 * Receives notifications about folders, files on the disk and open documents, and passes them to the services that
 * follow them.
 */
export function followFiles(
  connection: Connection,
  hello: InitializeParams,
  sync: WorkspaceSync,
  logs: PracticeLogs,
  boundary: ErrorBoundary,
): void {
  const folders = new Set(foldersOf(hello));
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
            return sync.setFolders([...folders]);
          }),
        );
      }
      // Watching starts before reading ends, so that no change in between is missed.
      const options = { watchers: [{ globPattern: watchedFilesGlob }] };
      const watching = watches && connection.client.register(DidChangeWatchedFilesNotification.type, options);
      await sync.setFolders([...folders]);
      await watching;
      await logs.recover();
      logs.reportLeftBehind([...folders]);
    }),
  );
  connection.onDidChangeWatchedFiles(
    boundary.notification('A change on the disk', async ({ changes }) => {
      const ours = changes.filter(({ uri }) => fileKindOf(uri));
      await sync.filesChanged(ours.map(({ uri }) => uri));
    }),
  );
  connection.onDidOpenTextDocument(
    boundary.notification('Opening a file', async ({ textDocument }) => {
      await sync.open(textDocument);
      await logs.opened(textDocument.uri);
    }),
  );
  connection.onDidChangeTextDocument(
    boundary.notification('An edit', ({ textDocument, contentChanges }) =>
      sync.change(textDocument.uri, contentChanges, textDocument.version),
    ),
  );
  connection.onDidSaveTextDocument(
    boundary.notification('A saved log', ({ textDocument, text }) =>
      text === undefined ? undefined : logs.saved(textDocument.uri, text),
    ),
  );
  connection.onDidCloseTextDocument(
    boundary.notification('Closing a file', async ({ textDocument }) => {
      await sync.close(textDocument.uri);
      await logs.closed(textDocument.uri);
    }),
  );
}
