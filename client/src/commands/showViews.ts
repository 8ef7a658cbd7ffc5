import { l10n } from 'vscode';
import { oddsRequest, reviewRequest } from '../../../server/src/protocol/messages/views.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import type { MarkdownViews } from '../views/markdownViews.ts';
import { withStatusMessage } from '../editor/messages.ts';

/** Shows the odds of the next run beside the active editor. */
export async function showRunOdds(
  views: MarkdownViews,
  routes: RouteChoice,
  calledOn: unknown,
): Promise<void> {
  const uri = await routes.choose(l10n.t('The odds of a run need a route.'), calledOn);
  if (uri === undefined) return;
  await withStatusMessage(
    l10n.t('Working out the odds of a run'),
    views.show(l10n.t('Run odds'), oddsRequest, { uri }),
  );
}

/** Shows the review of the last week beside the active editor. */
export async function reviewPractice(
  views: MarkdownViews,
  routes: RouteChoice,
  calledOn: unknown,
): Promise<void> {
  const uri = await routes.choose(l10n.t('A review needs a route and its logs.'), calledOn);
  if (uri === undefined) return;
  await withStatusMessage(
    l10n.t('Looking back on the week'),
    views.show(l10n.t('Practice review'), reviewRequest, { uri }),
  );
}
