import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { clientFiles } from './features/clientFiles.ts';
import { startServer } from './features/server.ts';

/** The language server in a web worker: files come from the editor. */
const scope = globalThis as unknown as ConstructorParameters<typeof BrowserMessageReader>[0];
const connection = createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope));
startServer(connection, clientFiles(connection));
