import { l10n, window } from 'vscode';
import { showInformation } from './messages.ts';
import { isRoutewrightDocument } from './selector.ts';

/**
 * The file in the active editor if it is a Routewright file, else one in a visible editor, else one that the person
 * picks; undefined where they pick none.
 *
 * @param need what the command needs, a sentence
 */
export async function pickRouteFile(need: string): Promise<string | undefined> {
  const front = window.activeTextEditor?.document;
  if (front && isRoutewrightDocument(front)) return front.uri.toString();
  const other = window.visibleTextEditors.find(({ document }) => isRoutewrightDocument(document));
  if (other) return other.document.uri.toString();
  const choose = l10n.t('Open a Route File');
  const answer = await showInformation(
    l10n.t('{0} Open a route, practice, runs or week file, then run the command again.', need),
    choose,
  );
  if (answer !== choose) return undefined;
  const [picked] =
    (await window.showOpenDialog({
      title: choose,
      filters: { [l10n.t('Routewright files')]: ['yaml', 'yml'] },
    })) ?? [];
  if (!picked) return undefined;
  const { document } = await window.showTextDocument(picked);
  return document.uri.toString();
}
