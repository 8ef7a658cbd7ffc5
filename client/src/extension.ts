import { Worker } from 'node:worker_threads';
import { Uri, type ExtensionContext } from 'vscode';
import { LanguageClient, PortMessageReader, PortMessageWriter } from 'vscode-languageclient/node';
import { commitsOf, fileAt } from '../../server/src/git/revision.ts';
import { start } from './start.ts';

/**
 * Where the editor runs in Node, the server is a thread of the extension host. The one process that can be started
 * is git, for an earlier version of a route, in a folder that the person trusts.
 */
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
    { commitsOf, fileAt },
  );
}
