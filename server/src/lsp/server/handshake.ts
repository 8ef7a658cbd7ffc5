import type { Connection, InitializeParams } from 'vscode-languageserver';
import { capabilities } from './capabilities.ts';
import type { MessageBuffer } from './messageBuffer.ts';
import { yieldToEventLoop } from '../documents/eventLoop.ts';

/** Begins to serve a client that said this of itself. */
export type ServeClient = (connection: Connection, hello: InitializeParams) => void;

/**
 * Answers a client's greeting before the server proper is loaded, which is most of what there is to load; the client
 * reads the answer meanwhile, and what it says then waits at the gate.
 *
 * @param gate that of the connection
 * @param load gets the server proper
 * @param failed told where it cannot be loaded or cannot begin
 */
export function handshake(
  connection: Connection,
  gate: MessageBuffer,
  load: () => Promise<ServeClient>,
  failed: (error: unknown) => void,
): void {
  const begin = async (hello: InitializeParams): Promise<void> => {
    // The answer goes first.
    await yieldToEventLoop();
    const serve = await load();
    serve(connection, hello);
    gate.release();
  };
  connection.onInitialize((hello) => {
    begin(hello).catch(failed);
    return { capabilities: { ...capabilities }, serverInfo: { name: 'Routewright' } };
  });
  connection.listen();
}
