import { l10n } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { TechniqueLine } from '../../../server/src/protocol/messages/rank.ts';
import { setStateRequest, type SetStateParams } from '../../../server/src/protocol/messages/week.ts';
import { showInformation } from '../editor/messages.ts';
import { startBlock } from '../editor/startBlock.ts';
import { changeWeekFile } from './changeWeekFile.ts';

/**
 * Asks what follows from choosing a technique: taking it up, by an edit that can be undone, or a block of it now.
 *
 * @param reason why the technique has its place in the ranking; undefined where it is in the practice set already, and so
 *   cannot be taken up
 */
export async function offerTechnique(
  client: BaseLanguageClient,
  uri: string,
  { technique, name }: TechniqueLine,
  reason: string | undefined,
): Promise<void> {
  const [takeUp, practise, neither] = [l10n.t('Take Up'), l10n.t('Start a Block'), l10n.t('Not Now')];
  const answer = await (reason === undefined
    ? showInformation(l10n.t('{0} is in the practice set.', name), practise, neither)
    : showInformation(l10n.t('Take up {0}? {1}', name, reason), takeUp, practise, neither));
  if (answer === practise) await startBlock(uri, technique);
  if (answer !== takeUp) return;
  const params: SetStateParams = { uri, technique, state: 'learning' };
  await changeWeekFile(client, () => client.sendRequest(setStateRequest, params));
}
