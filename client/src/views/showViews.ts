import { l10n, window } from 'vscode';
import {
  oddsRequest,
  reviewRequest,
  type OddsParams,
  type ReviewParams,
} from '../../../server/src/protocol/views.ts';
import { pickRouteFile } from '../commands/pickRouteFile.ts';
import type { MarkdownViews } from './markdownViews.ts';

/** Shows the odds of the next run beside the file in front. */
export async function showRunOdds(views: MarkdownViews): Promise<void> {
  const uri = await pickRouteFile(l10n.t('The odds of a run need a route.'));
  if (uri === undefined) return;
  const params: OddsParams = { uri };
  await withStatusMessage(
    l10n.t('Working out the odds of a run'),
    views.show(l10n.t('Run odds'), oddsRequest, params),
  );
}

/** Shows what the last week says beside the file in front. */
export async function reviewPractice(views: MarkdownViews): Promise<void> {
  const uri = await pickRouteFile(l10n.t('A review needs a route and its logs.'));
  if (uri === undefined) return;
  const params: ReviewParams = { uri };
  await withStatusMessage(
    l10n.t('Looking back on the week'),
    views.show(l10n.t('Practice review'), reviewRequest, params),
  );
}

/** Says in the status bar that something is being worked out. */
export async function withStatusMessage(what: string, work: Promise<void>): Promise<void> {
  window.setStatusBarMessage(`$(loading~spin) ${what}…`, work);
  await work;
}
