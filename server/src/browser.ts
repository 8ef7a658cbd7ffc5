import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { MessageBuffer } from './lsp/server/messageBuffer.ts';
import { handshake } from './lsp/server/handshake.ts';

/** The members of a worker's scope that are used here: the types of the DOM are not available in this build. */
interface WorkerScope {
  readonly name: string;
  readonly navigator: {
    readonly locks?: { request(lock: string, hold: () => Promise<never>): Promise<never> };
  };
  close(): void;
}
const scope = globalThis as unknown as WorkerScope;

/**
 * The entry point of the language server in a web worker. It is a single script, since some workers cannot load another
 * one; the main server code in it runs only after the client is answered.
 */
const messageBuffer = new MessageBuffer();
const connection = createConnection(
  new BrowserMessageReader(scope as never),
  new BrowserMessageWriter(scope as never),
  { messageStrategy: messageBuffer },
);
handshake(
  connection,
  messageBuffer,
  async () => (await import('./lsp/server/serveBrowser.ts')).serve,
  (error) => {
    connection.console.error(`The server could not begin: ${String(error)}`);
    // When the worker ends, its lock is released, which tells the client.
    scope.close();
  },
);

// The client waits for this lock. The browser releases it when the worker ends for any reason.
const lock = /routewright-server-[\w-]+$/.exec(scope.name)?.[0];
if (lock !== undefined)
  scope.navigator.locks?.request(lock, () => new Promise<never>(() => undefined)).catch(() => undefined);
