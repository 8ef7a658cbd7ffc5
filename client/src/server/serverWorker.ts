import { BrowserMessageReader, BrowserMessageWriter } from 'vscode-jsonrpc/browser';
import type { MessageTransports } from 'vscode-languageclient/browser';

interface WebWorker {
  terminate(): void;
  addEventListener(event: 'message' | 'error', listener: () => void, options: { readonly once: true }): void;
}
declare const Worker: new (url: string, options: { readonly name: string }) => WebWorker;
interface Locks {
  query(): Promise<{ readonly held?: readonly { readonly name?: string }[] }>;
  request(name: string, hold: () => void): Promise<void>;
}
declare const navigator: { readonly locks: Locks };

/** How often, and how many times, it is looked whether the worker holds its lock, before nothing watches it. */
const lockPollMs = 100;
const maxLockPolls = 100;

/** Hears messages, and can be told that there will be no more. */
class WorkerReader extends BrowserMessageReader {
  close(): void {
    this.fireClose();
  }
}

/**
 * The server as a web worker, one at a time. A browser tells nobody that a worker is over; but it takes away the locks
 * that a worker held, so the server holds one for as long as it lives, and it is waited for here.
 */
export class ServerWorker {
  private readonly file: string;
  private worker: WebWorker | undefined;

  /** @param file address of the server's bundle */
  constructor(file: string) {
    this.file = file;
  }

  /** Starts a worker; one that still runs is ended first. */
  begin(): Promise<MessageTransports> {
    this.end();
    const name = `routewright-server-${crypto.randomUUID()}`;
    const worker = new Worker(this.file, { name });
    this.worker = worker;
    const reader = new WorkerReader(worker);
    const over = (): void => {
      // One that was ended on purpose is not missed.
      if (this.worker === worker) reader.close();
    };
    let spoke = false;
    const once = { once: true } as const;
    worker.addEventListener(
      'message',
      () => {
        spoke = true;
        void whenReleased(name).then((released) => released && over());
      },
      once,
    );
    // What cannot be loaded never speaks. Later, an error ends nothing: the reader passes it on to the log.
    worker.addEventListener('error', () => !spoke && over(), once);
    return Promise.resolve({ reader, writer: new BrowserMessageWriter(worker) });
  }

  /** Ends the worker, also one that hangs. */
  end(): void {
    this.worker?.terminate();
    this.worker = undefined;
  }
}

/** Waits until a lock was held and is released; false where nobody was seen to hold it, or locks are not to be had. */
async function whenReleased(name: string): Promise<boolean> {
  try {
    const { locks } = navigator;
    for (let look = 0; look < maxLockPolls; look++) {
      const { held = [] } = await locks.query();
      if (held.some((lock) => lock.name === name)) {
        await locks.request(name, () => undefined);
        return true;
      }
      await new Promise((resolve) => setTimeout(resolve, lockPollMs));
    }
  } catch {
    // A page without an address of its own has no locks.
  }
  return false;
}
