import type { Steps } from '../../incremental/steps.ts';
import { resolveConstants } from '../../model/index.ts';
import type { ReviewParams, ViewResult } from '../../protocol/messages/views.ts';
import { pageMarkdown } from '../../reports/page.ts';
import { reviewPage } from '../../reports/review/reviewText.ts';
import { basisText } from '../../reports/basisText.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { difficultiesOf, techniqueNamesOf } from '../../queries/names.ts';
import { weekReviewReportInSteps } from '../../reports/review/weekReviewReport.ts';
import { resolveForModel, routeName } from './resolveProject.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import type { Estimates } from '../estimates/estimates.ts';

export interface ReviewNeeds {
  readonly workspace: Workspace;
  readonly estimates: Estimates;
}

/** The review of the last week, as a page; or why there is none. */
export function reviewHandler(needs: ReviewNeeds): (params: ReviewParams) => Steps<ViewResult> {
  return function* ({ uri }) {
    const resolved = resolveForModel(needs.workspace, uri);
    if ('message' in resolved) return resolved;
    const { project, own } = resolved;
    const { estimates } = needs;
    const input = yield* estimates.modelInput(project, own);
    const report = yield* weekReviewReportInSteps(project, input, estimates.cache(project));
    const page = reviewPage(report, {
      title: `Review: ${routeName(project)}`,
      basis: basisText(own, input, estimates.answerDay(own)),
      names: techniqueNamesOf(project),
      difficulties: difficultiesOf(project),
      offsetPerStep: resolveConstants(input.constants).midwayPerStep,
      caution: overuseWarning(own, input.asOfDay),
    });
    return { markdown: pageMarkdown(page) };
  };
}
