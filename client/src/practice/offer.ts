import { l10n, QuickPickItemKind, type QuickPickItem } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  practiceOfferRequest,
  type LogFile,
  type OfferedTechnique,
  type PracticeOffer,
} from '../../../server/src/protocol/messages/practiceOffer.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { createMissingFile } from '../editor/fileEdits.ts';
import { pick, withStatusMessage } from '../editor/messages.ts';
import { showRefusal } from '../editor/notices.ts';

/** What can be practised. Where nothing can, shows the reason and returns undefined. */
export async function fetchOffer(
  client: BaseLanguageClient,
  uri: string,
  plan: boolean,
): Promise<PracticeOffer | undefined> {
  const asking = client.sendRequest(practiceOfferRequest, { uri, plan });
  const offer = await (plan
    ? withStatusMessage(l10n.t('Looking up the next block of today'), asking)
    : asking);
  if (!isRefusal(offer)) return offer;
  await showRefusal(offer);
  return undefined;
}

/** The technique with this id, with its minutes in today's plan where its block is the next; undefined where none has it. */
export function offeredOf({ next, techniques }: PracticeOffer, id: unknown): OfferedTechnique | undefined {
  return [...(next ? [next] : []), ...techniques].find(({ technique }) => technique === id);
}

interface TechniqueItem extends QuickPickItem {
  readonly offered?: OfferedTechnique;
}

/**
 * Lets the person pick a technique.
 *
 * @param planned whether the next block of today's plan was asked for: it is then first in the list
 */
export async function pickTechnique(
  { next, techniques, route }: PracticeOffer,
  title: string,
  planned: boolean,
): Promise<OfferedTechnique | undefined> {
  const itemOf = (offered: OfferedTechnique): TechniqueItem => ({
    label: offered.name,
    description: offered.standingText,
    ...(offered.from !== '' && { detail: l10n.t('Start over at: {0}', offered.from) }),
    offered,
  });
  const separator = (label: string): TechniqueItem => ({ label, kind: QuickPickItemKind.Separator });
  const first: TechniqueItem[] = next
    ? [
        separator(l10n.t("Next in today's plan")),
        { ...itemOf(next), description: `${next.minutes} min · ${next.standingText}` },
      ]
    : [];
  const group = (label: string, members: readonly OfferedTechnique[]): TechniqueItem[] =>
    members.length > 0 ? [separator(label), ...members.map(itemOf)] : [];
  const inSet = techniques.filter((offered) => offered.inSet);
  const others = techniques.filter((offered) => !offered.inSet);
  const all = [
    ...first,
    ...group(l10n.t('In the practice set'), inSet),
    ...group(inSet.length > 0 ? l10n.t('Other techniques') : l10n.t('Any technique'), others),
  ];
  const chosen = await pick(all, {
    // A page that is drawn anew takes the keyboard for a moment: the list stays.
    ignoreFocusOut: true,
    title: `${title}: ${route}`,
    ...(planned && {
      placeHolder: next
        ? l10n.t('Enter takes the next block of the plan')
        : l10n.t("Today's plan has no block left: choose any technique"),
    }),
    matchOnDescription: true,
    matchOnDetail: true,
  });
  return chosen?.offered;
}

/** Makes sure that a log exists before attempts are written to it one by one. */
export async function ensureLogFile({ begin }: LogFile): Promise<void> {
  if (begin) await createMissingFile(begin);
}
