import { existsSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createMessageConnection } from 'vscode-jsonrpc/node';
import { bundleServer, LspClient } from '../../lsp/server.ts';
import { route } from '../../cli/place.ts';
import { ServerThread } from '../../../client/src/server/serverThread.ts';
import { waitUntil } from '../../helpers/eventually.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'server-thread-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function threadOf(name: string, code: string): Promise<ServerThread> {
  const file = join(folder, `${name}.cjs`);
  await writeFile(file, code);
  return new ServerThread(file);
}

const ready = "require('node:worker_threads').parentPort.postMessage({ jsonrpc: '2.0', method: 'ready' });";

describe('the server’s thread', () => {
  it('is ended although it hangs', async () => {
    const thread = await threadOf('hangs', `${ready} for (;;);`);
    const { reader } = await thread.begin();
    const closed = new Promise<void>((resolve) => reader.onClose(resolve));
    await new Promise<void>((resolve) => reader.listen(() => resolve()));
    await thread.end();
    await closed;
  });

  it('answers again after it hung and was started anew', async () => {
    const bundle = await bundleServer('main');
    const marker = JSON.stringify(join(folder, 'hung-once'));
    // The real server, which hangs for ever the first time that it is asked for anything but its greeting.
    const thread = await threadOf(
      'hangs-once',
      `const fs = require('node:fs');
const { parentPort } = require('node:worker_threads');
if (!fs.existsSync(${marker}))
  parentPort.on('message', ({ method }) => {
    if (method !== 'textDocument/hover') return;
    fs.writeFileSync(${marker}, '');
    for (;;);
  });
require(${JSON.stringify(bundle.file)});`,
    );
    const clientOf = async () => {
      const { reader, writer } = await thread.begin();
      const client = new LspClient(createMessageConnection(reader, writer));
      await client.initialize(null);
      await client.open('file:///t/a.route.yaml', route.replace('[crate-vault]', '[crate-valt]'));
      return client;
    };
    const hover = { textDocument: { uri: 'file:///t/a.route.yaml' }, position: { line: 6, character: 4 } };
    const first = await clientOf();
    const unanswered = first.request('textDocument/hover', hover).catch(() => undefined);
    await waitUntil(() => existsSync(join(folder, 'hung-once')));
    const second = await clientOf();
    expect(JSON.stringify(await second.request('textDocument/hover', hover))).toContain('difficulty 4 of 10');
    const found = await second.diagnostics('file:///t/a.route.yaml', (all) => all.length > 0);
    expect(found.map(({ code }) => code)).toContain('unknown-technique');
    first.connection.dispose();
    await unanswered;
    await thread.end();
    second.connection.dispose();
    await bundle.remove();
  });

  it('says why it ended, and that it did', async () => {
    const thread = await threadOf(
      'throws',
      `${ready} setTimeout(() => { throw new Error('Out of order'); }, 20);`,
    );
    const { reader } = await thread.begin();
    const reason = new Promise<Error>((resolve) => reader.onError(resolve));
    const closed = new Promise<void>((resolve) => reader.onClose(resolve));
    expect((await reason).message).toBe('Out of order');
    await closed;
  });

  it('is one at a time: the next is begun once the last is over', async () => {
    const thread = await threadOf('waits', `${ready} setInterval(() => {}, 1000);`);
    const first = await thread.begin();
    let over = false;
    first.reader.onClose(() => (over = true));
    const second = await thread.begin();
    expect(over).toBe(true);
    await new Promise<void>((resolve) => second.reader.listen(() => resolve()));
    await thread.end();
  });
});
