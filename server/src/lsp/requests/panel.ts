import type { PlannedBlock } from '../../model/rank/rateCurve.ts';
import { formatDate } from '../../text/calendar.ts';
import { resolveConstants } from '../../model/index.ts';
import { objectiveOptions } from '../../model/rank/objectives/objectives.ts';
import type { Plan } from '../../model/week/planWeek.ts';
import {
  panelVersion,
  type PanelData,
  type PanelParams,
  type LocateTechniqueParams,
  type LocateTechniqueResult,
} from '../../protocol/panel.ts';
import { curveView, type ForecastBasis } from '../../reports/panel/curveView.ts';
import { panelMarkdown } from '../../reports/panel/panelMarkdown.ts';
import { rankingView } from '../../reports/panel/rankingView.ts';
import { weekView } from '../../reports/panel/weekView.ts';
import { runView } from '../../reports/panel/runView.ts';
import type { PanelNames } from '../../reports/panel/panelNames.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { currentTechniqueId, type Project } from '../../workspace/project.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { resolveTarget } from '../../queries/target.ts';
import { techniqueLocation } from '../editing/definition.ts';
import { dailyBlocks, daysAhead } from '../estimates/dailyBlocks.ts';
import type { PanelReports } from '../estimates/panelReports.ts';
import { resolveProject, routeName } from './rank.ts';
import type { Session } from '../server/session.ts';

type Sections = Pick<PanelData, 'week' | 'ranking' | 'curve' | 'run' | 'pending' | 'more' | 'message'>;

const emptySections: Sections = {
  week: null,
  ranking: null,
  curve: null,
  run: null,
  pending: null,
  more: false,
  message: null,
};

/** What one view of the panel shows of the route that a file belongs to, or why there is nothing to show. */
export function panelData(session: Session, reports: PanelReports, params: PanelParams): PanelData {
  const { uri, view } = params;
  const empty = { version: panelVersion, uri, view, route: '', asOf: '', techniques: [] } as const;
  const asked = resolveProject(session, uri);
  if ('message' in asked) return { ...empty, ...emptySections, message: asked.message };
  const { project, own } = asked;
  reports.keepOnly(session.workspace.groups().projects);
  const question = session.estimates.modelInput(project, own);
  const names = panelNamesOf(project, own, question);
  const head = {
    ...empty,
    route: routeName(project),
    asOf: dateText(question),
    techniques: [...names.techniques].map(([technique, name]) => ({
      technique,
      name: sanitizeForTerminal(name),
    })),
  };
  return { ...head, ...sectionsOf({ reports, project, own, modelInput: question, names, params }) };
}

/**
 * The same with what can be added to it, which is worked out bit by bit.
 *
 * @param goOn is asked between two bits and lets others go first; false: what there is is enough
 */
export async function panelDataWithGap(
  session: Session,
  reports: PanelReports,
  params: PanelParams,
  goOn: () => Promise<boolean>,
): Promise<PanelData> {
  const data = panelData(session, reports, { ...params, wait: true });
  const asked = resolveProject(session, params.uri);
  if (!data.more || 'message' in asked) return data;
  const { project, own } = asked;
  const question = session.estimates.modelInput(project, own);
  const { report } = reports.week(project, question, reports.weekPlanInput(project, own, question), false);
  const steps = report && reports.gapInSteps(report);
  while (steps?.next().done === false) if (!(await goOn())) return data;
  return panelData(session, reports, { ...params, wait: true });
}

/** The same in Markdown. */
export async function panelMarkdownOf(
  session: Session,
  reports: PanelReports,
  params: PanelParams,
  goOn: () => Promise<boolean>,
): Promise<string> {
  return panelMarkdown(await panelDataWithGap(session, reports, params, goOn));
}

/** Where a technique is defined; null where it is not. */
export function locateTechnique(
  session: Session,
  { uri, technique }: LocateTechniqueParams,
): LocateTechniqueResult {
  const asked = resolveProject(session, uri);
  if ('message' in asked) return null;
  return techniqueLocation(session, asked.project, technique) ?? null;
}

interface SectionInput {
  readonly reports: PanelReports;
  readonly project: Project;
  readonly own: RunnerFiles;
  readonly modelInput: ModelInput;
  readonly names: PanelNames;
  readonly params: PanelParams;
}

function sectionsOf(asked: SectionInput): Sections {
  const { names } = asked;
  if (names.segments.size === 0 && names.techniques.size === 0) {
    return {
      ...emptySections,
      message:
        'This route is still empty. Write its segments with their times, and the techniques with difficulty and saves: the panel follows as you type.',
    };
  }
  switch (asked.params.view) {
    case 'ranking':
      return rankingSection(asked);
    case 'curve':
      return curveSection(asked);
    case 'run':
      return runSection(asked);
    case 'week':
      return weekSection(asked);
  }
}

const noTechnique =
  'The route has no technique yet. Add one under techniques: with its difficulty and what it saves, and use it in a segment.';

function rankingSection({
  reports,
  project,
  own,
  modelInput: question,
  names,
  params,
}: SectionInput): Sections {
  if (names.techniques.size === 0) return { ...emptySections, message: noTechnique };
  const target = names.segments.size === 0 ? undefined : resolveTarget(project, own)?.seconds;
  const by = objectiveOptions(params.objective, { target });
  const { report, fresh } = reports.ranking(project, question, params.wait, by);
  const { midwayPerStep } = resolveConstants(question.constants);
  return {
    ...emptySections,
    ranking: report ? rankingView(report, names, midwayPerStep, target) : null,
    pending: fresh ? null : 'Ranking what to practise next',
  };
}

function curveSection({
  reports,
  project,
  own,
  modelInput: question,
  names,
  params,
}: SectionInput): Sections {
  const wanted = params.technique === null ? undefined : currentTechniqueId(project, params.technique);
  const ranked = reports.ranking(project, question, false).report?.rows[0]?.technique;
  const first = ranked !== undefined && names.techniques.has(ranked) ? ranked : undefined;
  const technique = wanted ?? first ?? [...names.techniques.keys()][0];
  if (technique === undefined) return { ...emptySections, message: noTechnique };
  const week = reports.weekPlanInput(project, own, question);
  const { report: plan, fresh: planFresh } = reports.week(project, question, week, params.wait);
  const { blocks, basis } = plannedBlocksOf(plan, technique) ?? dailyBlockForecast(question);
  const ahead = { blocks, until: basis.until };
  const { report, fresh } = reports.curve(project, question, technique, ahead, params.wait && planFresh);
  const name = sanitizeForTerminal(names.techniques.get(technique) ?? technique);
  return {
    ...emptySections,
    curve: report ? curveView(report, technique, question.asOfDay, basis, names) : null,
    pending: fresh && planFresh ? null : `Working out the curve of ${name}`,
  };
}

function weekSection({ reports, project, own, modelInput: question, names, params }: SectionInput): Sections {
  if (names.techniques.size === 0) return { ...emptySections, message: noTechnique };
  const asked = reports.weekPlanInput(project, own, question);
  if (asked.givenMinutes.every((minutes) => minutes === 0)) return { ...emptySections, message: noMinutes };
  const { report, fresh } = reports.week(project, question, asked, params.wait);
  if (!report) return { ...emptySections, pending: 'Planning the week' };
  const gap = reports.gap(report);
  const { runMinutes, givenMinutes } = asked;
  const off = new Set(own.week?.document.off.map(({ date }) => date));
  return {
    ...emptySections,
    week: weekView(report, gap, { runMinutes, givenMinutes, off }, names),
    pending: fresh ? null : 'Planning the week',
    more: fresh && gap.method === 'not bounded',
  };
}

const noMinutes =
  'No day has minutes for practice yet. Write them into the week file, for example days: { mon: 60, wed: 60, sat: 90 }, and the plan follows.';

function runSection({ reports, project, own, modelInput: question, names, params }: SectionInput): Sections {
  if (names.segments.size === 0) {
    const message = 'The route has no segment yet. Add one under segments: with its id and usual time.';
    return { ...emptySections, message };
  }
  const target = resolveTarget(project, own)?.seconds ?? null;
  const { report, fresh } = reports.run(project, question, target, params.wait);
  return {
    ...emptySections,
    run: report ? runView(report.odds, report.times, names) : null,
    pending: fresh ? null : 'Working out the odds of the run',
  };
}

/** The blocks that the plan has of a technique; undefined where it has none. */
function plannedBlocksOf(
  plan: Plan | undefined,
  technique: string,
): { readonly blocks: readonly PlannedBlock[]; readonly basis: ForecastBasis } | undefined {
  if (!plan) return undefined;
  const blocks = plan.days.flatMap(({ day, blocks: own }) =>
    own.filter((block) => block.technique === technique).map(({ minutes }) => ({ day, minutes })),
  );
  if (blocks.length === 0) return undefined;
  const until = plan.asOfDay + plan.days.length;
  const blockMinutes = blocks[0]?.minutes ?? 0;
  return { blocks, basis: { blocks: blocks.length, until, planned: true, blockMinutes } };
}

/** One block a day, as in the ranking. */
function dailyBlockForecast(question: ModelInput): {
  readonly blocks: readonly PlannedBlock[];
  readonly basis: ForecastBasis;
} {
  const until = question.asOfDay + daysAhead;
  const basis = { blocks: daysAhead, until, planned: false, blockMinutes: question.options.blockMinutes };
  return { blocks: dailyBlocks(question), basis };
}

function panelNamesOf(project: Project, own: RunnerFiles, { states }: ModelInput): PanelNames {
  const week = own.week?.document;
  const ids = (list: readonly { readonly id: string }[] | undefined): Set<string> =>
    new Set((list ?? []).map(({ id }) => currentTechniqueId(project, id) ?? id));
  return {
    techniques: new Map([...project.techniques].map(([id, { name }]) => [id, name])),
    segments: new Map(project.segments.map(({ id, name }) => [id, name])),
    states,
    pinned: ids(week?.pin),
    leftOut: ids(week?.leaveOut),
  };
}

function dateText({ asOfDay }: ModelInput): string {
  return formatDate(asOfDay);
}
