import type { Steps } from '../../incremental/steps.ts';
import { formatDate } from '../../text/calendar.ts';
import type { PanelParams } from '../../protocol/messages/panel.ts';
import type { PanelData } from '../../protocol/panel/panelData.ts';
import type { Refusal } from '../../protocol/refusal.ts';
import type { ComparedRoute } from '../../reports/compare/comparison.ts';
import { panelVersion } from '../../protocol/panel/views.ts';
import { panelMarkdown } from '../../reports/panel/panelMarkdown.ts';
import { othersFactsOf } from '../../reports/othersText.ts';
import type { PanelNames } from '../../reports/panel/panelNames.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { segmentNamesOf, techniqueNamesOf } from '../../queries/names.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { currentTechniqueId, type Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';
import { brokenText, filesBehind } from './brokenText.ts';
import type { PanelAnswer } from './comparedRoute.ts';
import type { Estimates } from '../estimates/estimates.ts';
import type { PanelReports } from '../estimates/panelReports.ts';
import { remedies } from './remedies.ts';
import { sectionsOf } from './panelSections.ts';
import { emptySections } from './section.ts';
import { resolveForModel, routeName, withRunner } from './resolveProject.ts';

export interface PanelNeeds extends FileServices {
  readonly estimates: Estimates;
  readonly panelReports: PanelReports;
}

/**
 * Answers a request of the panel, which is shown next to the route's text. Its second argument is the route that is
 * compared.
 */
export function panelHandler(needs: PanelNeeds): PanelAnswer<PanelData> {
  return (params, compared) =>
    params.rest === true ? panelDataWithGap(needs, params, compared) : panelData(needs, params, compared);
}

/** The same in Markdown. */
export function panelMarkdownHandler(needs: PanelNeeds): PanelAnswer<string> {
  return function* (params, compared) {
    return panelMarkdown(yield* panelDataWithGap(needs, params, compared));
  };
}

/**
 * What one view of the panel shows of a file's route, or why there is nothing to show.
 *
 * @param compared the route that this one is compared with
 */
export function* panelData(
  needs: PanelNeeds,
  params: PanelParams,
  compared?: ComparedRoute | Refusal,
): Steps<PanelData> {
  const { uri, view } = params;
  const empty = {
    version: panelVersion,
    uri,
    view,
    routeUri: '',
    route: '',
    asOf: '',
    techniques: [],
  } as const;
  const resolved = resolveForModel(needs.workspace, uri);
  if ('message' in resolved) {
    const file = fileAt(needs.workspace, uri);
    // A file whose `route:` line cannot be read seems to belong to no route.
    const broken = file === undefined ? null : brokenText(needs, [file]);
    if (broken !== null) return { ...empty, ...emptySections, broken };
    const offers = 'whose' in resolved ? remedies({ week: undefined }, 'runner') : [];
    return { ...empty, ...emptySections, message: resolved.message, remedies: offers };
  }
  const { project, own } = resolved;
  const routeUri = project.route.uri;
  const broken = brokenText(needs, filesBehind(project, own));
  const route = withRunner(routeName(project), own);
  if (broken !== null) return { ...empty, ...emptySections, routeUri, route, broken };
  const modelInput = yield* needs.estimates.modelInput(project, own);
  const names = panelNamesOf(project, own, modelInput);
  const head = {
    ...empty,
    routeUri,
    route,
    asOf: formatDate(modelInput.asOfDay),
    techniques: [...names.techniques].map(([technique, name]) => ({
      technique,
      name: sanitizeForTerminal(name),
    })),
  };
  const sections = yield* sectionsOf({
    reports: needs.panelReports,
    project,
    own,
    modelInput,
    answerDay: needs.estimates.answerDay(own),
    names,
    day: needs.estimates.dayChoice(),
    compared,
    params,
  });
  return { ...head, ...sections };
}

/**
 * The same, together with what takes long: how the ranking's first places rest on a preference, and the gap between the
 * plan and the best possible one.
 */
function* panelDataWithGap(
  needs: PanelNeeds,
  params: PanelParams,
  compared?: ComparedRoute | Refusal,
): Steps<PanelData> {
  const data = yield* panelData(needs, { ...params, wait: true, rest: true }, compared);
  if (params.view !== 'week' || !data.more) return data;
  const resolved = resolveForModel(needs.workspace, params.uri);
  if ('message' in resolved) return data;
  const { project, own } = resolved;
  const modelInput = yield* needs.estimates.modelInput(project, own);
  const { panelReports } = needs;
  const weekInput = panelReports.weekPlanInput(project, own, modelInput);
  const { report } = yield* panelReports.week(project, modelInput, weekInput, false);
  if (report) yield* panelReports.gapInSteps(report);
  return yield* panelData(needs, { ...params, wait: true });
}

function panelNamesOf(project: Project, own: RunnerFiles, modelInput: ModelInput): PanelNames {
  const week = own.week?.document;
  const ids = (list: readonly { readonly id: string }[] | undefined): Set<string> =>
    new Set((list ?? []).map(({ id }) => currentTechniqueId(project, id) ?? id));
  return {
    techniques: techniqueNamesOf(project),
    segments: segmentNamesOf(project),
    pinned: ids(week?.pin),
    leftOut: ids(week?.leaveOut),
    needs: new Map([...project.techniques].map(([id, { needs }]) => [id, needs.map((need) => need.id)])),
    othersOf: (technique) => othersFactsOf(modelInput, technique),
  };
}
