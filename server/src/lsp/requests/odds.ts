import type { Steps } from '../../incremental/steps.ts';
import type { OddsParams, ViewResult } from '../../protocol/messages/views.ts';
import { noSegmentsMessage } from '../../reports/odds/oddsReport.ts';
import { oddsPage } from '../../reports/odds/oddsText.ts';
import { pageMarkdown } from '../../reports/page.ts';
import { basisText } from '../../reports/basisText.ts';
import { techniqueNamesOf, segmentNamesOf } from '../../queries/names.ts';
import { runOddsInSteps } from '../../reports/odds/runOdds.ts';
import { resolveTarget } from '../../queries/target.ts';
import { resolveForModel, routeName } from './resolveProject.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import type { Estimates } from '../estimates/estimates.ts';

export interface OddsNeeds {
  readonly workspace: Workspace;
  readonly estimates: Estimates;
}

/** The odds of the next run, as a page; or why they cannot be computed. */
export function oddsHandler(needs: OddsNeeds): (params: OddsParams) => Steps<ViewResult> {
  return function* ({ uri }) {
    const resolved = resolveForModel(needs.workspace, uri);
    if ('message' in resolved) return resolved;
    const { project, own } = resolved;
    if (project.segments.length === 0) return { message: noSegmentsMessage };
    const { estimates } = needs;
    const input = yield* estimates.modelInput(project, own);
    const target = resolveTarget(project, own);
    const oddsOptions = { target: target?.seconds ?? null, with: [] };
    const report = yield* runOddsInSteps(input, oddsOptions, estimates.cache(project));
    const page = oddsPage(report, {
      title: `Run odds: ${routeName(project)}`,
      basis: basisText(own, input, estimates.answerDay(own)),
      names: techniqueNamesOf(project),
      segments: segmentNamesOf(project),
      targetFrom: target?.from,
      with: [],
    });
    return { markdown: pageMarkdown(page) };
  };
}
