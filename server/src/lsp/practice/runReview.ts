import type { Steps } from '../../incremental/steps.ts';
import type { RunReviewParams, ViewResult } from '../../protocol/messages/views.ts';
import { pageMarkdown } from '../../reports/page.ts';
import { runChangePage } from '../../reports/review/runChangePage.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { runChangeInSteps } from '../../reports/review/runChange.ts';
import { normalUri } from '../documents/uris.ts';
import { resolveForModel, routeName } from '../requests/resolveProject.ts';
import type { PracticeServices } from './practiceServices.ts';

/** What one logged run changed: a comparison of the week's review with the run and without it. */
export function* runReview(services: PracticeServices, { uri, id }: RunReviewParams): Steps<ViewResult> {
  const resolved = resolveForModel(services.workspace, normalUri(uri));
  if ('message' in resolved) return resolved;
  const { project, own } = resolved;
  const { estimates } = services;
  const change = yield* runChangeInSteps(project, own, id, estimates.day(own), estimates.cache(project));
  if (!change)
    return {
      message: 'This run is in no runs file any more, so there is nothing to compare.',
    };
  const { before, after } = change;
  return {
    markdown: pageMarkdown(
      runChangePage(before, after, techniqueNamesOf(project), `After the run: ${routeName(project)}`),
    ),
  };
}
