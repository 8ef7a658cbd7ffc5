import { parentPort } from 'node:worker_threads';
import { createConnection, PortMessageReader, PortMessageWriter } from 'vscode-languageserver/node';
import { MessageBuffer } from './lsp/server/messageBuffer.ts';
import { handshake } from './lsp/server/handshake.ts';

/**
 * The entry point of the language server in Node: as a thread of the editor's extension host, without a process of its
 * own, or over the pipe that the command line names, such as `--stdio`. The main server code is a separate bundle, so
 * that the client is answered before it is loaded.
 */
const messageBuffer = new MessageBuffer();
const connection = parentPort
  ? createConnection(new PortMessageReader(parentPort), new PortMessageWriter(parentPort), {
      messageStrategy: messageBuffer,
    })
  : createConnection({ messageStrategy: messageBuffer });
handshake(
  connection,
  messageBuffer,
  async () => (await import('./lsp/server/serveNode.ts')).serve,
  (error) => {
    // An exception that nothing catches ends the server, and the client notices that it ended.
    setImmediate(() => {
      throw error;
    });
  },
);
