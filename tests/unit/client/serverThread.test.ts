import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ServerThread } from '../../../client/src/server/serverThread.ts';

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
