import type { Steps } from '../../incremental/steps.ts';
import type { TonightParams, TonightResult } from '../../protocol/messages/tonight.ts';
import { tonightView } from '../../reports/panel/tonightView.ts';
import { tonightReport, tonightWordsOf } from '../../reports/tonight/tonightReport.ts';
import { tonightText } from '../../reports/tonight/tonightText.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import type { Estimates } from '../estimates/estimates.ts';
import type { PanelReports } from '../estimates/panelReports.ts';
import { resolveForModel, withRunner } from './resolveProject.ts';

export interface TonightNeeds {
  readonly workspace: Workspace;
  readonly estimates: Estimates;
  readonly panelReports: PanelReports;
}

/** What to practise now on a file's route, in numbers and in words; or why there is no answer. */
export function tonightHandler(needs: TonightNeeds): (params: TonightParams) => Steps<TonightResult> {
  return function* ({ uri }) {
    const resolved = resolveForModel(needs.workspace, uri);
    if ('message' in resolved) return resolved;
    const { project, own } = resolved;
    const modelInput = yield* needs.estimates.modelInput(project, own);
    const { report: tonight } = yield* needs.panelReports.tonight(project, own, modelInput, true);
    if (tonight === undefined) return { message: 'There is no answer for tonight.' };
    const words = tonightWordsOf(project, own, modelInput.asOfDay);
    const view = tonightView(tonightText(tonight, words));
    return {
      report: tonightReport(tonight, words),
      words: { ...view, title: withRunner(view.title, own) },
    };
  };
}
