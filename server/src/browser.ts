import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { clientFiles } from './features/clientFiles.ts';
import { clientJournals } from './features/practiceRequests.ts';
import { startServer } from './features/server.ts';

/** The language server in a web worker: files come from the editor. The types of a worker's scope are the DOM's. */
const scope = globalThis as never;
const connection = createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope));
startServer(connection, clientFiles(connection), clientJournals(connection));

// The client waits for this lock, which the browser takes away when the worker ends, however that comes about.
const { name, navigator } = globalThis as unknown as {
  readonly name: string;
  readonly navigator: {
    readonly locks?: { request(lock: string, hold: () => Promise<never>): Promise<never> };
  };
};
const lock = /routewright-server-[\w-]+$/.exec(name)?.[0];
if (lock !== undefined)
  navigator.locks?.request(lock, () => new Promise<never>(() => undefined)).catch(() => undefined);
