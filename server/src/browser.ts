import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { MessageBuffer } from './lsp/server/messageBuffer.ts';
import { handshake } from './lsp/server/handshake.ts';

/** What a worker's scope has: the types of the DOM are not to be had here. */
interface WorkerScope {
  readonly name: string;
  readonly navigator: {
    readonly locks?: { request(lock: string, hold: () => Promise<never>): Promise<never> };
  };
  close(): void;
}
const scope = globalThis as unknown as WorkerScope;

/**
 * The way into the language server in a web worker. All of it is one script, since not every worker may load another;
 * what the server proper is made of runs only once the client is answered.
 */
const gate = new MessageBuffer();
const connection = createConnection(
  new BrowserMessageReader(scope as never),
  new BrowserMessageWriter(scope as never),
  { messageStrategy: gate },
);
handshake(
  connection,
  gate,
  async () => (await import('./lsp/server/serveBrowser.ts')).serve,
  (error) => {
    connection.console.error(`The server could not begin: ${String(error)}`);
    // With the worker goes its lock, which tells the client.
    scope.close();
  },
);

// The client waits for this lock, which the browser takes away when the worker ends, however that comes about.
const lock = /routewright-server-[\w-]+$/.exec(scope.name)?.[0];
if (lock !== undefined)
  scope.navigator.locks?.request(lock, () => new Promise<never>(() => undefined)).catch(() => undefined);
