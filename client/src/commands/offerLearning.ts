import { l10n, Range, Uri, window, workspace, WorkspaceEdit } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  setStateRequest,
  type SetStateParams,
  type SetStateResult,
  type TechniqueLine,
} from '../../../server/src/protocol/messages.ts';

/** Asks whether a technique is to be marked as being learned, and does so by an edit that can be undone. */
export async function offerLearning(
  client: BaseLanguageClient,
  uri: string,
  { technique, name }: TechniqueLine,
  reason: string,
): Promise<void> {
  const yes = l10n.t('Set to Learning');
  const answer = await window.showInformationMessage(
    l10n.t('Take up {0} next? {1}', name, reason),
    yes,
    l10n.t('Not Now'),
  );
  if (answer !== yes) return;
  const params: SetStateParams = { uri, technique, state: 'learning' };
  try {
    void window.showInformationMessage(await setState(client, params));
  } catch (error) {
    client.error('The state was not set.', error, false);
    void window.showErrorMessage(
      l10n.t('The state was not set: {0}', error instanceof Error ? error.message : String(error)),
    );
  }
}

/** Asks for the edit and applies it; returns what to say. */
async function setState(client: BaseLanguageClient, params: SetStateParams): Promise<string> {
  // The first answer may be for a file as it is on the disk. Opened, it has a version to go by.
  for (let attempt = 0; attempt < 3; attempt++) {
    const { edit, message } = await client.sendRequest<SetStateResult>(setStateRequest, params);
    if (!edit || (await apply(edit))) return message;
  }
  return l10n.t('The file keeps changing, and nothing was written. Try again in a moment.');
}

type Edit = NonNullable<SetStateResult['edit']>;

/** Applies the edit as one step to undo and shows the file; false where the file is another by now. */
async function apply({ uri, version, range, newText, create }: Edit): Promise<boolean> {
  const target = Uri.parse(uri);
  const edit = new WorkspaceEdit();
  if (create) {
    edit.createFile(target, { contents: new TextEncoder().encode(newText), ignoreIfExists: false });
  } else {
    const document = await workspace.openTextDocument(target);
    if (document.version !== version) return false;
    const { start, end } = range;
    edit.replace(target, new Range(start.line, start.character, end.line, end.character), newText);
  }
  if (!(await workspace.applyEdit(edit))) return false;
  const line = range.start.line + newText.trimEnd().split('\n').length - 1;
  await window.showTextDocument(target, { preview: false, selection: new Range(line, 0, line, 0) });
  return true;
}
