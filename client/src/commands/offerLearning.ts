import { l10n, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { TechniqueLine } from '../../../server/src/protocol/messages/rank.ts';
import { setStateRequest, type SetStateParams } from '../../../server/src/protocol/messages/week.ts';
import { requestEdit } from '../editor/fileEdits.ts';
import { reasonOf, showFailure } from '../editor/notices.ts';

/** Asks whether to mark a technique as being learned, and marks it by an edit that can be undone. */
export async function offerLearning(
  client: BaseLanguageClient,
  uri: string,
  { technique, name }: TechniqueLine,
  reason: string,
): Promise<void> {
  const yes = l10n.t('Take Up');
  const answer = await window.showInformationMessage(
    l10n.t('Take up {0}? {1}', name, reason),
    yes,
    l10n.t('Not Now'),
  );
  if (answer !== yes) return;
  const params: SetStateParams = { uri, technique, state: 'learning' };
  const ask = () => client.sendRequest(setStateRequest, params);
  try {
    void window.showInformationMessage(await requestEdit(ask, { keepFocus: false }));
  } catch (error) {
    client.error('The state was not set.', error, false);
    showFailure(l10n.t('The state was not set: {0}', reasonOf(error)));
  }
}
