import type { CancellationToken } from 'vscode-languageserver';
import { formatDate } from '../../text/calendar.ts';
import type { PanelParams } from '../../protocol/messages/panel.ts';
import type { PanelData } from '../../protocol/panel/panelData.ts';
import { panelVersion } from '../../protocol/panel/views.ts';
import { panelMarkdown } from '../../reports/panel/panelMarkdown.ts';
import type { PanelNames } from '../../reports/panel/panelNames.ts';
import { segmentNamesOf, techniqueNamesOf } from '../../queries/names.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { currentTechniqueId, type Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import { yieldToEventLoop } from '../documents/eventLoop.ts';
import type { Estimates } from '../estimates/estimates.ts';
import type { PanelReports } from '../estimates/panelReports.ts';
import { emptySections, sectionsOf } from './panelSections.ts';
import { resolveForModel, routeName } from './resolveProject.ts';

export interface PanelNeeds {
  readonly workspace: Workspace;
  readonly estimates: Estimates;
  readonly panelReports: PanelReports;
}

/** Answers a request of the panel, which is shown next to the route's text. */
export function panelHandler(
  needs: PanelNeeds,
): (params: PanelParams, token: CancellationToken) => Promise<PanelData> {
  return async (params, token) => {
    // Before slow work, receive the messages that have arrived: one of them may cancel this request.
    if (params.wait) await yieldToEventLoop();
    if (params.rest !== true) return panelData(needs, params);
    return panelDataWithGap(needs, params, yieldBetweenSteps(token));
  };
}

/** The same in Markdown. */
export function panelMarkdownHandler(
  needs: PanelNeeds,
): (params: PanelParams, token: CancellationToken) => Promise<string> {
  return (params, token) => panelMarkdownOf(needs, params, yieldBetweenSteps(token));
}

/** What one view of the panel shows of a file's route, or why there is nothing to show. */
export function panelData(needs: PanelNeeds, params: PanelParams): PanelData {
  const { uri, view } = params;
  const empty = { version: panelVersion, uri, view, route: '', asOf: '', techniques: [] } as const;
  const resolved = resolveForModel(needs.workspace, uri);
  if ('message' in resolved) return { ...empty, ...emptySections, message: resolved.message };
  const { project, own } = resolved;
  const modelInput = needs.estimates.modelInput(project, own);
  const names = panelNamesOf(project, own);
  const head = {
    ...empty,
    route: routeName(project),
    asOf: formatDate(modelInput.asOfDay),
    techniques: [...names.techniques].map(([technique, name]) => ({
      technique,
      name: sanitizeForTerminal(name),
    })),
  };
  return { ...head, ...sectionsOf({ reports: needs.panelReports, project, own, modelInput, names, params }) };
}

/**
 * The same, together with what takes long: how the ranking's first places rest on a preference, and the gap between the
 * plan and the best possible one, which is computed in short steps.
 *
 * @param goOn awaited between two steps, lets other messages be handled first; false: the data without the gap is
 *   enough
 */
export async function panelDataWithGap(
  needs: PanelNeeds,
  params: PanelParams,
  goOn: () => Promise<boolean>,
): Promise<PanelData> {
  const data = panelData(needs, { ...params, wait: true, rest: true });
  if (params.view !== 'week' || !data.more) return data;
  const resolved = resolveForModel(needs.workspace, params.uri);
  if ('message' in resolved) return data;
  const { project, own } = resolved;
  const modelInput = needs.estimates.modelInput(project, own);
  const { panelReports } = needs;
  const { report } = panelReports.week(
    project,
    modelInput,
    panelReports.weekPlanInput(project, own, modelInput),
    false,
  );
  const steps = report && panelReports.gapInSteps(report);
  while (steps?.next().done === false) if (!(await goOn())) return data;
  return panelData(needs, { ...params, wait: true });
}

/** The same in Markdown. */
export async function panelMarkdownOf(
  needs: PanelNeeds,
  params: PanelParams,
  goOn: () => Promise<boolean>,
): Promise<string> {
  return panelMarkdown(await panelDataWithGap(needs, params, goOn));
}

/** Milliseconds of work after which other messages are handled first. */
const maxWorkMs = 12;

/**
 * Gives a function that lets other messages be handled every few milliseconds, and says whether to continue afterwards.
 */
function yieldBetweenSteps(token: CancellationToken): () => Promise<boolean> {
  let since = Date.now();
  return async () => {
    if (Date.now() - since < maxWorkMs) return true;
    await yieldToEventLoop();
    since = Date.now();
    return !token.isCancellationRequested;
  };
}

function panelNamesOf(project: Project, own: RunnerFiles): PanelNames {
  const week = own.week?.document;
  const ids = (list: readonly { readonly id: string }[] | undefined): Set<string> =>
    new Set((list ?? []).map(({ id }) => currentTechniqueId(project, id) ?? id));
  return {
    techniques: techniqueNamesOf(project),
    segments: segmentNamesOf(project),
    pinned: ids(week?.pin),
    leftOut: ids(week?.leaveOut),
    needs: new Map([...project.techniques].map(([id, { needs }]) => [id, needs.map((need) => need.id)])),
  };
}
