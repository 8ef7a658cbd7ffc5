import { Disposable, Uri, workspace, type ExtensionContext } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  readJournalRequest,
  writeJournalRequest,
} from '../../../server/src/protocol/messages/clientFiles.ts';
import { answerRequest } from '../../../server/src/protocol/messages/message.ts';
import { bytesOf } from '../editor/fileEdits.ts';
import { reasonOf } from '../editor/notices.ts';

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
        // Nothing was kept.
        return null;
      }
    }),
  );
}
