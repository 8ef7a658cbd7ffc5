import { l10n, QuickPickItemKind, Uri, window, workspace, type QuickPickItem } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  practiceOfferRequest,
  type LogFile,
  type OfferedTechnique,
  type PracticeOffer,
  type PracticeOfferParams,
  type PracticeOfferResult,
} from '../../../server/src/protocol/practice.ts';

/** What can be practised; says why where nothing can, and then gives nothing. */
export async function fetchOffer(
  client: BaseLanguageClient,
  uri: string,
  plan: boolean,
): Promise<PracticeOffer | undefined> {
  const params: PracticeOfferParams = { uri, plan };
  const asking = client.sendRequest<PracticeOfferResult>(practiceOfferRequest, params);
  if (plan) window.setStatusBarMessage(l10n.t('$(loading~spin) Looking up the next block of today…'), asking);
  const offer = await asking;
  if (!('message' in offer)) return offer;
  await window.showInformationMessage(offer.message);
  return undefined;
}

interface TechniqueItem extends QuickPickItem {
  readonly offered?: OfferedTechnique;
}

/**
 * Lets the person pick a technique.
 *
 * @param planned whether the next block of today's plan was asked for: it then stands first
 */
export async function pickTechnique(
  { next, techniques, route }: PracticeOffer,
  title: string,
  planned: boolean,
): Promise<OfferedTechnique | undefined> {
  const itemOf = (offered: OfferedTechnique): TechniqueItem => ({
    label: offered.name,
    description: offered.state,
    ...(offered.from !== '' && { detail: l10n.t('Start over at: {0}', offered.from) }),
    offered,
  });
  const separator = (label: string): TechniqueItem => ({ label, kind: QuickPickItemKind.Separator });
  const first: TechniqueItem[] = next
    ? [
        separator(l10n.t("Next in today's plan")),
        { ...itemOf(next), description: `${next.minutes} min · ${next.state}` },
      ]
    : [];
  const others = [separator(l10n.t('Any technique')), ...techniques.map(itemOf)];
  const chosen = await window.showQuickPick([...first, ...others], {
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

/** Makes sure that a log is there to be written to. */
export async function ensureLogFile({ uri, begin }: LogFile): Promise<void> {
  if (begin === null) return;
  const target = Uri.parse(uri);
  const there = await workspace.fs.stat(target).then(
    () => true,
    () => false,
  );
  if (!there) await workspace.fs.writeFile(target, new TextEncoder().encode(begin));
}
