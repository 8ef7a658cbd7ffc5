import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { createMessageConnection, PortMessageReader, PortMessageWriter } from 'vscode-jsonrpc/node';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bundleServer, LspClient, startProcess } from './server.ts';
import { listFilesRequest, readFileRequest } from '../../server/src/protocol/messages/clientFiles.ts';
import { HoverRequest } from 'vscode-languageserver-protocol';

const folder = 'memory://editor/routes';
const routeUri = `${folder}/lanternfall.route.yaml`;
const logUri = `${folder}/lanternfall.practice.yaml`;

let bundle: Awaited<ReturnType<typeof bundleServer>>;
let route: string;
let log: string;

beforeAll(async () => {
  const sample = (kind: string) =>
    readFile(join(import.meta.dirname, `../../samples/lanternfall.${kind}.yaml`), 'utf8');
  [bundle, route, log] = await Promise.all([bundleServer('main'), sample('route'), sample('practice')]);
});
afterAll(() => bundle.remove());

/** Answers the server's questions about files from memory, those for a folder's list once `listing` allows it. */
function serve(client: LspClient, files: Readonly<Record<string, string>>, listing = Promise.resolve()) {
  client.connection.onRequest(listFilesRequest, async ({ folder: asked }) => {
    await listing;
    return Object.keys(files).filter((uri) => uri.startsWith(asked));
  });
  client.connection.onRequest(readFileRequest, ({ uri }) => files[uri] ?? null);
}

/** Says everything at once, without waiting for an answer to anything, and checks that all of it was heard in order. */
async function sayAllAtOnce(client: LspClient): Promise<void> {
  serve(client, { [routeUri]: route });
  const broken = route.replace('      - crate-vault\n', '      - crate-valt\n');
  const line = broken.slice(0, broken.indexOf('- crate-valt')).split('\n').length - 1;
  const range = { start: { line, character: 8 }, end: { line, character: 18 } };
  const greeted = client.initialize(folder);
  void client.connection.sendNotification('initialized', {});
  void client.open(routeUri, broken);
  void client.change(routeUri, 2, { range, text: 'crate-vaul' });
  void client.change(routeUri, 3, { range, text: 'crate-vault' });
  const position = { line, character: 10 };
  const hover = client.request(HoverRequest.type, {
    textDocument: { uri: routeUri },
    position,
  });
  expect(await greeted).toMatchObject({ capabilities: { hoverProvider: true } });
  expect(JSON.stringify((await hover)?.contents)).toContain('Crate vault');
  expect(await client.diagnostics(routeUri, (_, version) => version === 3)).toEqual([]);
}

describe('a server that is spoken to before it is loaded', () => {
  it('hears all of it in order, over standard input', async () => {
    const server = startProcess(bundle.file);
    await sayAllAtOnce(server.client);
    expect(await server.stop()).toBe(0);
  });

  it('hears all of it in order, as a thread', async () => {
    const worker = new Worker(bundle.file);
    const client = new LspClient(
      createMessageConnection(new PortMessageReader(worker), new PortMessageWriter(worker)),
    );
    await sayAllAtOnce(client);
    await worker.terminate();
  });

  it('ends when it is told to at once', async () => {
    const server = startProcess(bundle.file);
    void server.client.initialize(folder);
    expect(await server.stop()).toBe(0);
  });
});

describe('a folder that takes long to list', () => {
  const unknownRoutes = (client: LspClient) =>
    client.history.filter(({ diagnostics }) => diagnostics.some(({ code }) => code === 'unknown-route'));

  /** Opens a log with a mistake of its own, and waits until that is shown; the folder is listed only then. */
  async function openLog(files: Readonly<Record<string, string>>) {
    const server = startProcess(bundle.file);
    const { client } = server;
    let listed = (): void => undefined;
    const listing = new Promise<void>((resolve) => (listed = resolve));
    serve(client, files, listing);
    await client.initialize(folder);
    await client.open(logUri, `${log}\nnonsense: 1\n`);
    await client.diagnostics(logUri, (all) => all.some(({ code }) => code === 'unknown-key'));
    expect(unknownRoutes(client)).toEqual([]);
    listed();
    return server;
  }

  it('has no route marked as missing that is there', async () => {
    const server = await openLog({ [routeUri]: route, [logUri]: log });
    await server.client.request('textDocument/documentSymbol', { textDocument: { uri: logUri } });
    // An edit after everything is read: what is published for it rests on all files.
    await server.client.change(logUri, 2, { text: log });
    await server.client.diagnostics(logUri, (_, version) => version === 2);
    expect(unknownRoutes(server.client)).toEqual([]);
    expect(await server.stop()).toBe(0);
  });

  it('has one marked that is not there, once that is certain', async () => {
    const server = await openLog({ [logUri]: log });
    await server.client.diagnostics(logUri, (all) => all.some(({ code }) => code === 'unknown-route'));
    expect(await server.stop()).toBe(0);
  });
});
