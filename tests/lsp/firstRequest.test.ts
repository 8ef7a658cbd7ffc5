import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { CancellationTokenSource } from 'vscode-jsonrpc/node';
import { CodeLensRequest, InlayHintRequest } from 'vscode-languageserver-protocol';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bundleServer, startProcess, type RunningServer } from './server.ts';

const samples = join(import.meta.dirname, '../../samples');
const folder = pathToFileURL(samples).href;
const uri = `${folder}/lanternfall.route.yaml`;
const textDocument = { uri };
const range = { start: { line: 0, character: 0 }, end: { line: 9_999, character: 0 } };

let bundle: Awaited<ReturnType<typeof bundleServer>>;
let route: string;

beforeAll(async () => {
  [bundle, route] = await Promise.all([
    bundleServer('main'),
    readFile(join(samples, 'lanternfall.route.yaml'), 'utf8'),
  ]);
});
afterAll(() => bundle.remove());

/** A server with the sample open, of which nothing was asked yet; its client cannot be told to ask again. */
async function opened(): Promise<RunningServer> {
  const server = startProcess(bundle.file);
  await server.client.initialize(folder, { today: '2026-11-09' });
  await server.client.open(uri, route);
  return server;
}

describe('the first request of a client that does not ask again', () => {
  it('has the code lenses, and an edit later the answer has numbers at once', async () => {
    const { client, stop } = await opened();
    const lenses = await client.request(CodeLensRequest.type, { textDocument });
    const titles = lenses!.map(({ command }) => command!.title);
    const ranked = titles.filter((title) => /no\. \d+ (to learn next|in the ranking) · /i.test(title));
    expect(ranked.length).toBeGreaterThan(5);
    expect(titles.filter((title) => title.startsWith('Expected ')).length).toBeGreaterThan(5);
    await client.change(uri, 2, { text: route.replace('saves: 3.2', 'saves: 3.4') });
    const later = await client.request(CodeLensRequest.type, { textDocument });
    expect(later!.map(({ command }) => command!.title)).toEqual(titles);
    expect(await stop()).toBe(0);
  });

  it('has the inlay hints', async () => {
    const { client, stop } = await opened();
    const hints = await client.request(InlayHintRequest.type, { textDocument, range });
    const labels = hints!.map(({ label }) => label as string);
    expect(labels.filter((label) => label.startsWith('lands ')).length).toBeGreaterThan(5);
    expect(labels.filter((label) => label.startsWith('break-even ')).length).toBeGreaterThan(5);
    expect(await stop()).toBe(0);
  });

  it('can be cancelled while it waits, and the next one is answered', async () => {
    const { client, stop } = await opened();
    const source = new CancellationTokenSource();
    const request = client.connection.sendRequest('textDocument/codeLens', { textDocument }, source.token);
    source.cancel();
    await expect(request).rejects.toMatchObject({ code: -32800 });
    const lenses = await client.request(CodeLensRequest.type, { textDocument });
    expect(lenses?.length).toBeGreaterThan(20);
    expect(await stop()).toBe(0);
  });
});
