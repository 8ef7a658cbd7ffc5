import { Uri, type ExtensionContext } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { ServerWorker } from './server/serverWorker.ts';
import { start } from './start.ts';

/** Where the editor runs in a browser, the server is a web worker. */
export function activate(context: ExtensionContext): Promise<void> {
  const file = Uri.joinPath(context.extensionUri, 'dist', 'server.browser.js').toString(true);
  const worker = new ServerWorker(file);
  return start(context, {
    createClient: (id, name, options) => new LanguageClient(id, name, () => worker.begin(), options),
    end: () => {
      worker.end();
      return Promise.resolve();
    },
  });
}
