import { Uri, type ExtensionContext } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/node';
import { commitsChanging, fileAtRevision } from '../../server/src/git/revision.ts';
import { ServerThread } from './server/serverThread.ts';
import { start } from './start.ts';

/**
 * Where the editor runs in Node, the server is a thread of the extension host. The only process that the extension can
 * start is git, to read an earlier version of a route, and only in a folder that the person trusts.
 */
export function activate(context: ExtensionContext): Promise<void> {
  const thread = new ServerThread(Uri.joinPath(context.extensionUri, 'dist', 'server.cjs').fsPath);
  return start(
    context,
    {
      createClient: (id, name, options) => new LanguageClient(id, name, () => thread.begin(), options),
      end: () => thread.end(),
    },
    { commitsOf: commitsChanging, fileAt: fileAtRevision },
  );
}
