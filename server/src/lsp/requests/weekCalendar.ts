import { stemOf } from '../../files/fileKind.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { WeekCalendarParams, WeekCalendarResult } from '../../protocol/messages/week.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { planCalendar } from '../../reports/plan/planCalendar.ts';
import { planReport } from '../../reports/plan/planReport.ts';
import { fileName, normalUri } from '../documents/uris.ts';
import type { Estimates } from '../estimates/estimates.ts';
import type { PanelReports } from '../estimates/panelReports.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { resolveForModel } from './resolveProject.ts';

export interface WeekCalendarNeeds extends FileServices {
  readonly estimates: Estimates;
  readonly panelReports: PanelReports;
}

/** The seven days that the panel shows, as the calendar that `routewright plan --ics --weeks 1` writes. */
export function weekCalendarHandler({
  workspace,
  estimates,
  panelReports,
}: WeekCalendarNeeds): (params: WeekCalendarParams) => Steps<WeekCalendarResult> {
  return function* ({ uri }) {
    const resolved = resolveForModel(workspace, normalUri(uri));
    if ('message' in resolved) return { message: resolved.message };
    const { project, own } = resolved;
    const modelInput = yield* estimates.modelInput(project, own);
    const weekInput = panelReports.weekPlanInput(project, own, modelInput);
    const { report: plan } = yield* panelReports.week(project, modelInput, weekInput, true);
    const { runMinutes, givenMinutes } = weekInput;
    const weeks = plan && planReport(plan, { runMinutes, givenMinutes, names: techniqueNamesOf(project) });
    const report = weeks && { ...weeks, days: weeks.days.slice(0, 7) };
    if (!report?.days.some(({ blocks, runMinutes: run }) => blocks.length > 0 || run > 0))
      return { message: 'The week has neither a block nor a run, so there is nothing for a calendar.' };
    const { text, startsAt } = planCalendar(project, own, report);
    return { text, startsAt, name: `${fileName(stemOf(project.route.uri))}.ics` };
  };
}
