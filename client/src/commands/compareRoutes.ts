import { l10n, QuickPickItemKind, Uri, type QuickPickItem } from 'vscode';
import { isRevision } from '../../../server/src/git/isRevision.ts';
import type { RouteRevision } from '../../../server/src/protocol/routeRevision.ts';
import { fileNameOf, isRoutePath, pickRoute, routeItem, workspaceRoutes } from '../routes/routeFiles.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { gitUnavailableReason, type GitHistory } from '../server/git.ts';
import { askText, pick } from '../editor/messages.ts';
import { showRefusal } from '../editor/notices.ts';
import { showInPanel } from '../editor/showInPanel.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';

/** What a route can be compared with. */
interface OtherVersion extends QuickPickItem {
  readonly route?: Uri;
  readonly earlier?: boolean;
}

/**
 * Asks which route the one in the active editor is compared with: another route, or an earlier version of itself. Shows
 * the comparison.
 */
export async function compareRoutes(
  routes: RouteChoice,
  history: GitHistory | undefined,
  calledOn: unknown,
): Promise<void> {
  const here = await routeFileOf(routes, calledOn);
  if (here === undefined) return;
  const chosen = await pick(await itemsFor(here, history), {
    title: l10n.t('Compare {0} with', fileNameOf(here)),
    placeHolder: l10n.t('The route that you choose is A, the one in the editor is B'),
    matchOnDescription: true,
  });
  if (chosen?.earlier) return compareEarlier(history, here);
  if (chosen?.route) await show({ uri: chosen.route.toString() }, here);
}

/** Compares the route in the active editor with its own version at a commit that the person picks. */
export async function compareWithEarlier(
  routes: RouteChoice,
  history: GitHistory | undefined,
  calledOn: unknown,
): Promise<void> {
  const here = await routeFileOf(routes, calledOn);
  if (here !== undefined) await compareEarlier(history, here);
}

async function compareEarlier(history: GitHistory | undefined, here: Uri): Promise<void> {
  const message = gitUnavailableReason(here, history);
  if (message !== undefined || history === undefined) {
    await showRefusal({ message: message ?? '' });
    return;
  }
  const commits = await history.commitsOf(here.fsPath);
  if (isRefusal(commits)) {
    await showRefusal({
      message: l10n.t('{0} has no earlier version: {1}', fileNameOf(here), commits.message),
    });
    return;
  }
  const other: QuickPickItem = {
    label: l10n.t('Another Revision…'),
    description: l10n.t('a branch, a tag or a commit'),
  };
  const items = commits.map(({ revision, date, subject }) => ({
    label: subject || revision.slice(0, 10),
    description: `${date} · ${revision.slice(0, 10)}`,
    revision,
  }));
  const chosen = await pick<QuickPickItem & { readonly revision?: string }>([...items, other], {
    title: l10n.t('Compare {0} with an earlier version of it', fileNameOf(here)),
    placeHolder: l10n.t('Commits that changed it, newest first'),
    matchOnDescription: true,
  });
  const revision = chosen === other ? await askRevision() : chosen?.revision;
  if (revision === undefined) return;
  await show({ uri: here.toString(), revision }, here);
}

function askRevision(): Thenable<string | undefined> {
  return askText({
    title: l10n.t('Compare with revision'),
    placeHolder: 'main~3',
    validateInput: (text) =>
      isRevision(text) ? undefined : l10n.t('The name of a branch, a tag or a commit.'),
  });
}

/** Shows the panel of a route at its comparison with another one. */
async function show(compared: RouteRevision, here: Uri): Promise<void> {
  await showInPanel({ uri: here.toString(), view: 'compare', technique: null, compared });
}

/** The route to compare. Where the file chosen is a log or a week file, the person picks a route file instead. */
async function routeFileOf(choice: RouteChoice, calledOn: unknown): Promise<Uri | undefined> {
  const uri = await choice.choose(l10n.t('A comparison needs a route.'), calledOn);
  if (uri === undefined) return undefined;
  const front = Uri.parse(uri);
  if (isRoutePath(front.path)) return front;
  const routes = await workspaceRoutes();
  if (routes.length === 1) return routes[0];
  return pickRoute(routes, l10n.t('Which route is to be compared?'));
}

async function itemsFor(here: Uri, history: GitHistory | undefined): Promise<OtherVersion[]> {
  const why = gitUnavailableReason(here, history);
  const earlier: OtherVersion = {
    label: l10n.t('An Earlier Version of It'),
    description: why === undefined ? l10n.t('from git') : l10n.t('not here'),
    ...(why !== undefined && { detail: why }),
    earlier: true,
  };
  const others = (await workspaceRoutes()).filter((route) => route.toString() !== here.toString());
  if (others.length === 0) return [earlier];
  return [
    earlier,
    { label: l10n.t('Other routes'), kind: QuickPickItemKind.Separator },
    ...others.map(routeItem),
  ];
}
