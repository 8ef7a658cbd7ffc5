import type { Connection, InitializeParams } from 'vscode-languageserver';
import { capabilities } from './capabilities.ts';
import type { MessageBuffer } from './messageBuffer.ts';
import { yieldToEventLoop } from '../documents/eventLoop.ts';

/** Starts to serve a client that sent this `initialize` request. */
export type ServeClient = (connection: Connection, hello: InitializeParams) => void;

/**
 * Answers a client's `initialize` request before the main server code is loaded, which takes most of the start. The
 * client reads the answer in the meantime, and its next messages wait in the buffer.
 *
 * @param messageBuffer that of the connection
 * @param load loads the main server code
 * @param failed called where that code cannot be loaded or started
 */
export function handshake(
  connection: Connection,
  messageBuffer: MessageBuffer,
  load: () => Promise<ServeClient>,
  failed: (error: unknown) => void,
): void {
  const begin = async (hello: InitializeParams): Promise<void> => {
    // The answer is sent first.
    await yieldToEventLoop();
    const serve = await load();
    serve(connection, hello);
    messageBuffer.release();
  };
  connection.onInitialize((hello) => {
    begin(hello).catch(failed);
    return { capabilities: { ...capabilities }, serverInfo: { name: 'Routewright' } };
  });
  connection.listen();
}
