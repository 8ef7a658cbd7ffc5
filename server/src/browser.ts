import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { clientFiles } from './features/clientFiles.ts';
import { clientJournals } from './features/practiceRequests.ts';
import { startServer } from './features/server.ts';

/** The language server in a web worker: files come from the editor. The types of a worker's scope are the DOM's. */
const scope = globalThis as never;
const connection = createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope));
startServer(connection, clientFiles(connection), clientJournals(connection));
