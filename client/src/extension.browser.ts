import { Uri, type ExtensionContext } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { start } from './start.ts';

interface WebWorker {
  terminate(): void;
}
declare const Worker: new (url: string) => WebWorker & Awaited<ReturnType<ServerOptions>>;
type ServerOptions = Extract<ConstructorParameters<typeof LanguageClient>[2], () => unknown>;

/** Where the editor runs in a browser, the server is a web worker. */
export function activate(context: ExtensionContext): Promise<void> {
  const file = Uri.joinPath(context.extensionUri, 'dist', 'server.browser.js').toString(true);
  let worker: WebWorker | undefined;
  const begin: ServerOptions = () => {
    worker?.terminate();
    const started = new Worker(file);
    worker = started;
    return Promise.resolve(started);
  };
  return start(context, {
    createClient: (id, name, options) => new LanguageClient(id, name, begin, options),
    end: () => {
      worker?.terminate();
      return Promise.resolve();
    },
  });
}
