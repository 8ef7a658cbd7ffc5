import { l10n } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { FileEditResult } from '../../../server/src/protocol/fileEdit.ts';
import { requestEdit } from '../editor/fileEdits.ts';
import { showInformation } from '../editor/messages.ts';
import { reasonOf, showFailure } from '../editor/notices.ts';

/**
 * Changes the week file by an edit that can be undone, shows it, and tells the person what was done or why not.
 *
 * @param ask asks the server for the edit of the current text
 */
export async function changeWeekFile(
  client: BaseLanguageClient,
  ask: () => Promise<FileEditResult>,
): Promise<void> {
  try {
    void showInformation(await requestEdit(ask, { keepFocus: false }));
  } catch (error) {
    client.error('The week file was not changed.', error, false);
    showFailure(l10n.t('The week file was not changed: {0}', reasonOf(error)));
  }
}
