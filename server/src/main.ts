import { parentPort } from 'node:worker_threads';
import { createConnection, PortMessageReader, PortMessageWriter } from 'vscode-languageserver/node';
import { MessageBuffer } from './lsp/server/messageBuffer.ts';
import { handshake } from './lsp/server/handshake.ts';

/**
 * The way into the language server in Node: as a thread of the editor's extension host, which starts no process, or
 * over the pipe that the command line names, such as `--stdio`. The server proper is a bundle of its own, so that the
 * client is answered before it is read.
 */
const gate = new MessageBuffer();
const connection = parentPort
  ? createConnection(new PortMessageReader(parentPort), new PortMessageWriter(parentPort), {
      messageStrategy: gate,
    })
  : createConnection({ messageStrategy: gate });
handshake(
  connection,
  gate,
  async () => (await import('./lsp/server/serveNode.ts')).serve,
  (error) => {
    // Thrown where nothing catches it: the server ends, and the client hears that it did.
    setImmediate(() => {
      throw error;
    });
  },
);
