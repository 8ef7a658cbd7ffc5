import { Disposable, Uri, workspace, type ExtensionContext } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  readJournalRequest,
  writeJournalRequest,
} from '../../../server/src/protocol/messages/clientFiles.ts';
import { answerRequest } from '../../../server/src/protocol/messages/message.ts';
import { bytesOf } from '../editor/fileEdits.ts';
import { reasonOf } from '../editor/notices.ts';

/**
 * Keeps journals for the server in the extension's storage, where the server reaches no disk: one file for each log,
 * always written whole.
 */
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
    answerRequest(client, writeJournalRequest, async ({ uri, text }) => {
      try {
        await workspace.fs.writeFile(await fileFor(uri), bytesOf(text));
        return null;
      } catch (error) {
        return reasonOf(error);
      }
    }),
    answerRequest(client, readJournalRequest, async ({ uri }) => {
      try {
        return new TextDecoder().decode(await workspace.fs.readFile(await fileFor(uri)));
      } catch {
        // No journal is kept for this log.
        return null;
      }
    }),
  );
}
