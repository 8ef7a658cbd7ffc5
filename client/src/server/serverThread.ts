import { Worker } from 'node:worker_threads';
import { PortMessageReader, PortMessageWriter } from 'vscode-jsonrpc/node';
import type { MessageTransports } from 'vscode-languageclient/node';

/** The server as a thread of the extension host, one at a time. */
export class ServerThread {
  private readonly file: string;
  private worker: Worker | undefined;

  /** @param file path of the server's bundle */
  constructor(file: string) {
    this.file = file;
  }

  /** Starts a thread; one that still runs is ended first. */
  async begin(): Promise<MessageTransports> {
    await this.end();
    const worker = new Worker(this.file);
    this.worker = worker;
    // A thread emits `exit` when it ends; the connection listens for `close`.
    worker.on('exit', () => worker.emit('close'));
    return { reader: new PortMessageReader(worker), writer: new PortMessageWriter(worker) };
  }

  /** Ends the thread, even one that hangs. */
  async end(): Promise<void> {
    await this.worker?.terminate();
    this.worker = undefined;
  }
}
