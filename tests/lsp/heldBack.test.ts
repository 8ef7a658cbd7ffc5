import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createMessageConnection } from 'vscode-jsonrpc/node';
import { ServerThread } from '../../client/src/server/serverThread.ts';
import { workingOnNotification } from '../../server/src/protocol/messages/findings.ts';
import { route } from '../cli/place.ts';
import { bundleServer, LspClient } from './server.ts';
import { waitUntil } from '../helpers/eventually.ts';

/** A text with this in it is never read to its end: the planted fault. */
const endless = '# without an end';
const bad = route.replace('[crate-vault]', '[crate-valt]');

let bundle: Awaited<ReturnType<typeof bundleServer>>;
let folder: string;
let thread: ServerThread;
let root: string;
let uriA: string;
let uriB: string;

beforeAll(async () => {
  bundle = await bundleServer('main');
  folder = await mkdtemp(join(tmpdir(), 'held-back-'));
  const faulty = join(folder, 'faulty.cjs');
  await writeFile(
    faulty,
    `const { exec } = RegExp.prototype;
RegExp.prototype.exec = function (text) {
  if (typeof text === 'string' && text.includes(${JSON.stringify(endless)})) for (;;);
  return exec.call(this, text);
};
require(${JSON.stringify(bundle.file)});`,
  );
  thread = new ServerThread(faulty);
  const files = join(folder, 'files');
  root = pathToFileURL(files).toString();
  [uriA, uriB] = [`${root}/a.route.yaml`, `${root}/b.route.yaml`];
});
afterAll(async () => {
  await thread.end();
  await bundle.remove();
  await rm(folder, { recursive: true, force: true });
});

interface Started {
  readonly client: LspClient;
  /** What the server said that it works on, in order. */
  readonly worked: (string | null)[];
}

async function begin(options: object): Promise<Started> {
  const { reader, writer } = await thread.begin();
  const client = new LspClient(createMessageConnection(reader, writer));
  const worked: (string | null)[] = [];
  client.connection.onNotification(workingOnNotification, ({ uri }) => void worked.push(uri));
  await client.initialize(null, options);
  return { client, worked };
}

const codes = async ({ client }: Started, uri: string): Promise<unknown[]> =>
  (await client.diagnostics(uri, (all) => all.length > 0)).map(({ code }) => code);

describe('a file on which the server hangs', () => {
  it('is named before the work on it begins, and nothing is worked on once it is done', async () => {
    const started = await begin({ heldBack: [] });
    await started.client.open(uriB, bad);
    expect(await codes(started, uriB)).toContain('unknown-technique');
    await waitUntil(() => started.worked.at(-1) === null);
    expect(started.worked).toContain(uriB);
    await started.client.open(uriA, `${bad}${endless}\n`);
    await waitUntil(() => started.worked.at(-1) === uriA);
    started.client.connection.dispose();
  });

  it('is left alone by the next server, which answers for the others and says so', async () => {
    const started = await begin({ heldBack: [uriA] });
    const { client } = started;
    await client.open(uriA, `${bad}${endless}\n`);
    await client.open(uriB, bad);
    expect(await codes(started, uriB)).toContain('unknown-technique');
    const [finding] = await client.diagnostics(uriA, (all) => all.length > 0);
    expect(finding).toMatchObject({ code: 'file-not-read', severity: 1 });
    expect(finding?.message).toMatch(/stopped answering.*read again as soon as it changes/u);
    const format = { textDocument: { uri: uriA }, options: { tabSize: 2, insertSpaces: true } };
    expect(await client.request('textDocument/formatting', format)).toEqual([]);
    // The edit that mends it.
    await client.change(uriA, 2, { text: bad });
    await client.diagnostics(uriA, (all) => all.some(({ code }) => code === 'unknown-technique'));
    client.connection.dispose();
  });

  it('is read by a server that is started without it being named', async () => {
    const started = await begin({ heldBack: [] });
    await started.client.open(uriA, bad);
    expect(await codes(started, uriA)).toContain('unknown-technique');
    started.client.connection.dispose();
  });

  it('is not told of to a client that did not ask', async () => {
    const started = await begin({});
    await started.client.open(uriB, bad);
    expect(await codes(started, uriB)).toContain('unknown-technique');
    expect(started.worked).toEqual([]);
    started.client.connection.dispose();
  });
});
