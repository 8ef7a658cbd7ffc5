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

/**
 * How often, and how many times at most, it is checked whether the worker has taken its lock. After that, the worker's
 * end is not watched.
 */
const lockPollMs = 100;
const maxLockPolls = 100;

/** Reads a worker's messages, and can report the connection as closed. */
class WorkerReader extends BrowserMessageReader {
  close(): void {
    this.fireClose();
  }
}

/**
 * The server as a web worker, one at a time. A browser does not report the end of a worker, but it releases the locks
 * that the worker held. So the server holds a lock as long as it lives, and this class waits until that lock is free.
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
    const reportEnd = (): void => {
      // The end of a worker that was ended on purpose is not reported.
      if (this.worker === worker) reader.close();
    };
    let hasSentMessage = false;
    const once = { once: true } as const;
    worker.addEventListener(
      'message',
      () => {
        hasSentMessage = true;
        void whenReleased(name).then((released) => released && reportEnd());
      },
      once,
    );
    // A script that cannot be loaded never sends a message, so an error before the first message means the end. A later
    // error ends nothing: the reader passes it on to the log.
    worker.addEventListener('error', () => !hasSentMessage && reportEnd(), once);
    return Promise.resolve({ reader, writer: new BrowserMessageWriter(worker) });
  }

  /** Ends the worker, even one that hangs. */
  end(): void {
    this.worker?.terminate();
    this.worker = undefined;
  }
}

/**
 * Waits until a lock was held and then released; false where nobody took it in time, or the browser offers no locks.
 */
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
    // In a page without an origin of its own, requesting a lock throws.
  }
  return false;
}
