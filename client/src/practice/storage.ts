import { Disposable, Uri, workspace, type ExtensionContext } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  writeJournalRequest,
  readJournalRequest,
  type WriteJournalParams,
  type WriteJournalResult,
  type ReadJournalParams,
  type ReadJournalResult,
} from '../../../server/src/protocol/practice.ts';

/** Keeps journals in the extension's storage for the server, where it reaches no disk: one file a log, written whole. */
export function serveJournals(
  client: BaseLanguageClient,
  { globalStorageUri }: ExtensionContext,
): Disposable {
  const fileFor = async (uri: string): Promise<Uri> => {
    const hash = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(uri));
    const name = [...new Uint8Array(hash)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
    return Uri.joinPath(globalStorageUri, 'journal', `${name}.jsonl`);
  };
  return Disposable.from(
    client.onRequest(
      writeJournalRequest,
      async ({ uri, text }: WriteJournalParams): Promise<WriteJournalResult> => {
        try {
          await workspace.fs.writeFile(await fileFor(uri), new TextEncoder().encode(text));
          return null;
        } catch (error) {
          return error instanceof Error ? error.message : String(error);
        }
      },
    ),
    client.onRequest(readJournalRequest, async ({ uri }: ReadJournalParams): Promise<ReadJournalResult> => {
      try {
        return new TextDecoder().decode(await workspace.fs.readFile(await fileFor(uri)));
      } catch {
        // Nothing was kept.
        return null;
      }
    }),
  );
}
