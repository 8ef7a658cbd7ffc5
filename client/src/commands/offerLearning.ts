import { l10n } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { TechniqueLine } from '../../../server/src/protocol/messages/rank.ts';
import { setStateRequest, type SetStateParams } from '../../../server/src/protocol/messages/week.ts';
import { showInformation } from '../editor/messages.ts';
import { changeWeekFile } from './changeWeekFile.ts';

/** Asks whether to take a technique up, and marks it as being learned by an edit that can be undone. */
export async function offerLearning(
  client: BaseLanguageClient,
  uri: string,
  { technique, name }: TechniqueLine,
  reason: string,
): Promise<void> {
  const yes = l10n.t('Take Up');
  const answer = await showInformation(l10n.t('Take up {0}? {1}', name, reason), yes, l10n.t('Not Now'));
  if (answer !== yes) return;
  const params: SetStateParams = { uri, technique, state: 'learning' };
  await changeWeekFile(client, () => client.sendRequest(setStateRequest, params));
}
