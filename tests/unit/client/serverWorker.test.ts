import { join } from 'node:path';
import { build } from 'esbuild';
import { afterEach, beforeAll, beforeEach, expect, it, vi } from 'vitest';
import type { ServerWorker as Server } from '../../../client/src/server/serverWorker.ts';

let ServerWorker: typeof Server;

/** A browser's worker and its locks, as far as the client sees them. */
class FakeWorker extends EventTarget {
  static last: FakeWorker;
  onmessage: ((event: { data: unknown }) => void) | null = null;
  readonly name: string;
  ended = false;

  constructor(_url: string, { name }: { readonly name: string }) {
    super();
    this.name = name;
    FakeWorker.last = this;
  }

  postMessage(): void {}

  terminate(): void {
    this.ended = true;
    release(this.name);
  }
}

const held = new Set<string>();
const waiting = new Map<string, () => void>();
function release(name: string): void {
  held.delete(name);
  waiting.get(name)?.();
}
const locks = {
  query: () => Promise.resolve({ held: [...held].map((name) => ({ name })) }),
  request: (name: string) => new Promise<void>((resolve) => waiting.set(name, resolve)),
};

/** What the client hears of a worker that was just started. */
async function begun(server: Server) {
  const { reader } = await server.begin();
  const heard = { closed: 0, errors: 0 };
  reader.onClose(() => heard.closed++);
  reader.onError(() => heard.errors++);
  return { worker: FakeWorker.last, heard };
}

beforeAll(async () => {
  // The library's half for browsers can be had in a bundle for browsers only.
  const { outputFiles } = await build({
    entryPoints: [join(import.meta.dirname, '../../../client/src/server/serverWorker.ts')],
    bundle: true,
    write: false,
    platform: 'browser',
    format: 'esm',
  });
  const text = Buffer.from(outputFiles[0]?.text ?? '').toString('base64');
  ({ ServerWorker } = (await import(/* @vite-ignore */ `data:text/javascript;base64,${text}`)) as {
    ServerWorker: typeof Server;
  });
});
beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('Worker', FakeWorker);
  vi.stubGlobal('navigator', { locks });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
  held.clear();
  waiting.clear();
});

it('hears that the worker is over once its lock is released, also where it took the lock late', async () => {
  const { worker, heard } = await begun(new ServerWorker('server.js'));
  worker.dispatchEvent(new Event('message'));
  await vi.advanceTimersByTimeAsync(1000);
  held.add(worker.name);
  await vi.advanceTimersByTimeAsync(1000);
  expect(heard.closed).toBe(0);
  release(worker.name);
  await vi.advanceTimersByTimeAsync(0);
  expect(heard.closed).toBe(1);
});

it('does not miss a worker that is ended on purpose, or for the next one', async () => {
  const server = new ServerWorker('server.js');
  const first = await begun(server);
  held.add(first.worker.name);
  first.worker.dispatchEvent(new Event('message'));
  await vi.advanceTimersByTimeAsync(1000);
  const second = await begun(server);
  expect(first.worker.ended).toBe(true);
  expect(second.worker.name).not.toBe(first.worker.name);
  held.add(second.worker.name);
  second.worker.dispatchEvent(new Event('message'));
  await vi.advanceTimersByTimeAsync(1000);
  server.end();
  await vi.advanceTimersByTimeAsync(1000);
  expect(second.worker.ended).toBe(true);
  expect([first.heard.closed, second.heard.closed]).toEqual([0, 0]);
});

it('takes a worker for over that fails before it speaks, and passes on later errors only', async () => {
  const server = new ServerWorker('missing.js');
  const silent = await begun(server);
  silent.worker.dispatchEvent(new Event('error'));
  expect(silent.heard).toEqual({ closed: 1, errors: 1 });
  const speaks = await begun(server);
  speaks.worker.dispatchEvent(new Event('message'));
  speaks.worker.dispatchEvent(new Event('error'));
  await vi.advanceTimersByTimeAsync(60_000);
  expect(speaks.heard).toEqual({ closed: 0, errors: 1 });
});

it('goes on without watching where a page may have no locks', async () => {
  vi.stubGlobal('navigator', {});
  const { worker, heard } = await begun(new ServerWorker('server.js'));
  worker.dispatchEvent(new Event('message'));
  await vi.advanceTimersByTimeAsync(60_000);
  expect(heard.closed).toBe(0);
});
