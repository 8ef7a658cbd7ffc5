import { Uri, type ExtensionContext } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { start } from './start.ts';

declare const Worker: new (url: string) => ConstructorParameters<typeof LanguageClient>[2];

/** Where the editor runs in a browser, the server is a web worker. */
export function activate(context: ExtensionContext): Promise<void> {
  const file = Uri.joinPath(context.extensionUri, 'dist', 'server.browser.js').toString(true);
  return start(context, (id, name, options) => new LanguageClient(id, name, new Worker(file), options));
}
