import { readFile } from 'node:fs/promises';
import { builtinModules } from 'node:module';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { createMessageConnection, PortMessageReader, PortMessageWriter } from 'vscode-jsonrpc/node';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { browserShim, bundleServer, LspClient } from './server.ts';
import { listFilesRequest, readFileRequest } from '../../server/src/protocol/messages/clientFiles.ts';
import { rankRequest } from '../../server/src/protocol/messages/rank.ts';

const samples = join(import.meta.dirname, '../../samples');
const folder = 'memory://editor/routes';
const routeUri = `${folder}/lanternfall.route.yaml`;

let bundle: Awaited<ReturnType<typeof bundleServer>>;
let worker: Worker;
let client: LspClient;
const files = new Map<string, string>();

beforeAll(async () => {
  for (const kind of ['route', 'practice', 'runs', 'week']) {
    const name = `lanternfall.${kind}.yaml`;
    files.set(`${folder}/${name}`, await readFile(join(samples, name), 'utf8'));
  }
  bundle = await bundleServer('browser');
  worker = new Worker(browserShim, { eval: true, workerData: await readFile(bundle.file, 'utf8') });
  client = new LspClient(
    createMessageConnection(new PortMessageReader(worker), new PortMessageWriter(worker)),
  );
  // A worker that failed answers nothing: whoever waits for it is told.
  worker.on('error', (error) => {
    console.error(error);
    client.connection.dispose();
  });
  client.connection.onRequest(listFilesRequest, ({ folder: asked }) =>
    [...files.keys()].filter((uri) => uri.startsWith(asked)),
  );
  client.connection.onRequest(readFileRequest, ({ uri }) => files.get(uri) ?? null);
});
afterAll(async () => {
  await worker.terminate();
  await bundle.remove();
});

it('the browser bundle needs nothing of Node', async () => {
  const text = await readFile(bundle.file, 'utf8');
  const wanted = [...text.matchAll(/\brequire\(["']([^"']+)["']\)/g)].map(([, name]) => name!);
  const builtin = new Set(builtinModules);
  expect(wanted.filter((name) => name.startsWith('node:') || builtin.has(name))).toEqual([]);
});

it('the server in a worker reads its files through the editor, and ranks', async () => {
  await client.initialize(folder, { today: '2026-11-09' });
  const { report, lines } = await client.request(rankRequest, { uri: routeUri });
  expect(report!.rows.length).toBeGreaterThan(0);
  expect(lines[0]!.location!.uri).toBe(routeUri);
  // States are read from the week file, which only the editor has.
  expect(report!.skipped.map(({ technique }) => technique)).toContain('lens-align');
});

it('the server in a worker publishes diagnostics', async () => {
  const text = files.get(routeUri)!.replace('- crate-vault\n', '- crate-valt\n');
  await client.open(routeUri, text);
  // The sample has a finding of its own, which may be told of before the text that was opened is read.
  const found = await client.diagnostics(routeUri, (all) =>
    all.some(({ code }) => code === 'unknown-technique'),
  );
  expect(found[0]).toMatchObject({ code: 'unknown-technique' });
});
