import { Worker } from 'node:worker_threads';
import { Uri, type ExtensionContext } from 'vscode';
import { LanguageClient, PortMessageReader, PortMessageWriter } from 'vscode-languageclient/node';
import { start, stop } from './start.ts';

/** Where the editor runs in Node, the server is a thread of the extension host: no process is started. */
export function activate(context: ExtensionContext): Promise<void> {
  const file = Uri.joinPath(context.extensionUri, 'dist', 'server.cjs').fsPath;
  return start(
    context,
    (id, name, options) =>
      new LanguageClient(
        id,
        name,
        () => {
          const worker = new Worker(file);
          // A thread says that it is over; the connection listens for being closed.
          worker.on('exit', () => worker.emit('close'));
          return Promise.resolve({
            reader: new PortMessageReader(worker),
            writer: new PortMessageWriter(worker),
          });
        },
        options,
      ),
  );
}

export { stop as deactivate };
