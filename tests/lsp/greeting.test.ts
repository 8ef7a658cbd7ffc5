import { MessageChannel } from 'node:worker_threads';
import { createMessageConnection } from 'vscode-jsonrpc/node';
import {
  createConnection,
  PortMessageReader,
  PortMessageWriter,
  type Connection,
  type MessageStrategy,
} from 'vscode-languageserver/node';
import { afterEach, expect, it } from 'vitest';
import { MessageBuffer } from '../../server/src/lsp/server/messageBuffer.ts';
import { handshake, type ServeClient } from '../../server/src/lsp/server/handshake.ts';

let close = (): void => undefined;
afterEach(() => close());

/** A client and a server's way in, in one thread. `arrived` is told of each message as it comes. */
function meet(
  load: () => Promise<ServeClient>,
  failed: (error: unknown) => void,
  arrived = (): void => undefined,
) {
  const { port1, port2 } = new MessageChannel();
  const client = createMessageConnection(new PortMessageReader(port1), new PortMessageWriter(port1));
  client.listen();
  const gate = new MessageBuffer();
  const messageStrategy: MessageStrategy = {
    handleMessage: (message, next) => {
      arrived();
      return gate.handleMessage(message, next);
    },
  };
  const connection = createConnection(new PortMessageReader(port2), new PortMessageWriter(port2), {
    messageStrategy,
  });
  handshake(connection, gate, load, failed);
  close = () => {
    client.dispose();
    connection.dispose();
    port1.close();
  };
  return client;
}

const hello = { processId: null, rootUri: null, capabilities: {} };

it('a client is answered before the server is loaded, and what it says until then is heard in order', async () => {
  const heard: string[] = [];
  const serve: ServeClient = (connection: Connection, said) => {
    heard.push(`hello: ${String(said.rootUri)}`);
    connection.onInitialized(() => void heard.push('initialized'));
    connection.onNotification('first', () => void heard.push('first'));
    connection.onRequest('ask', () => {
      heard.push('ask');
      return 'answer';
    });
    connection.onNotification('last', () => void heard.push('last'));
  };
  let messages = 0;
  let everythingCame = (): void => undefined;
  const loaded = new Promise<ServeClient>((resolve) => (everythingCame = () => resolve(serve)));
  const client = meet(
    () => loaded,
    (error) => heard.push(String(error)),
    () => {
      if (++messages === 5) everythingCame();
    },
  );
  expect(await client.sendRequest('initialize', hello)).toMatchObject({
    serverInfo: { name: 'Routewright' },
  });
  void client.sendNotification('initialized', {});
  void client.sendNotification('first', {});
  const answer = client.sendRequest('ask', {});
  void client.sendNotification('last', {});
  expect(await answer).toBe('answer');
  await client.sendRequest('ask', {});
  expect(heard).toEqual(['hello: null', 'initialized', 'first', 'ask', 'last', 'ask']);
});

it('that a server cannot be loaded is told', async () => {
  const error = new Error('no such file');
  let client: ReturnType<typeof meet> | undefined;
  const told = new Promise((resolve) => {
    client = meet(() => Promise.reject(error), resolve);
  });
  // Answered all the same, before anything is loaded.
  await client?.sendRequest('initialize', hello);
  expect(await told).toBe(error);
});
