import type { PlannedBlock } from '../../model/rank/rateCurve.ts';
import { formatDate } from '../../text/calendar.ts';
import { resolveConstants } from '../../model/index.ts';
import type { Plan } from '../../model/week/planWeek.ts';
import {
  panelVersion,
  type PanelData,
  type PanelParams,
  type WhereIsParams,
  type WhereIsResult,
} from '../../protocol/panel.ts';
import { curveView, type ForecastBasis } from '../../reports/panel/curveView.ts';
import { panelMarkdown } from '../../reports/panel/panelMarkdown.ts';
import { rankingView } from '../../reports/panel/rankingView.ts';
import { weekView } from '../../reports/panel/weekView.ts';
import { runView } from '../../reports/panel/runView.ts';
import type { PanelNames } from '../../reports/panel/panelNames.ts';
import { plainText } from '../../text/terminalText.ts';
import { currentId, type Project } from '../../workspace/project.ts';
import type { Question } from '../../queries/modelInput.ts';
import type { Own } from '../../workspace/runnerFiles.ts';
import { targetOf } from '../../queries/target.ts';
import { techniqueLocation } from '../editing/definition.ts';
import { dailyBlocks, daysAhead } from '../estimates/dailyBlocks.ts';
import type { PanelReports } from '../estimates/panelReports.ts';
import { askedOf, routeName } from './rank.ts';
import type { Session } from '../server/session.ts';

type Sections = Pick<PanelData, 'week' | 'ranking' | 'curve' | 'run' | 'pending' | 'more' | 'message'>;

const nothing: Sections = {
  week: null,
  ranking: null,
  curve: null,
  run: null,
  pending: null,
  more: false,
  message: null,
};

/** What one view of the panel shows of the route that a file belongs to, or why there is nothing to show. */
export function panelFor(session: Session, reports: PanelReports, params: PanelParams): PanelData {
  const { uri, view } = params;
  const empty = { version: panelVersion, uri, view, route: '', asOf: '', techniques: [] } as const;
  const asked = askedOf(session, uri);
  if ('message' in asked) return { ...empty, ...nothing, message: asked.message };
  const { project, own } = asked;
  reports.keepOnly(session.workspace.groups().projects);
  const question = session.estimates.question(project, own);
  const names = namesOf(project, own, question);
  const head = {
    ...empty,
    route: routeName(project),
    asOf: dateText(question),
    techniques: [...names.techniques].map(([technique, name]) => ({ technique, name: plainText(name) })),
  };
  return { ...head, ...sectionsOf({ reports, project, own, question, names, params }) };
}

/**
 * The same with what can be added to it, which is worked out bit by bit.
 *
 * @param goOn is asked between two bits and lets others go first; false: what there is is enough
 */
export async function panelWithRest(
  session: Session,
  reports: PanelReports,
  params: PanelParams,
  goOn: () => Promise<boolean>,
): Promise<PanelData> {
  const data = panelFor(session, reports, { ...params, wait: true });
  const asked = askedOf(session, params.uri);
  if (!data.more || 'message' in asked) return data;
  const { project, own } = asked;
  const question = session.estimates.question(project, own);
  const { report } = reports.week(project, question, reports.weekQuestion(project, own, question), false);
  const steps = report && reports.gapInSteps(report);
  while (steps?.next().done === false) if (!(await goOn())) return data;
  return panelFor(session, reports, { ...params, wait: true });
}

/** The same in Markdown. */
export async function panelMarkdownFor(
  session: Session,
  reports: PanelReports,
  params: PanelParams,
  goOn: () => Promise<boolean>,
): Promise<string> {
  return panelMarkdown(await panelWithRest(session, reports, params, goOn));
}

/** Where a technique is defined; null where it is not. */
export function whereIs(session: Session, { uri, technique }: WhereIsParams): WhereIsResult {
  const asked = askedOf(session, uri);
  if ('message' in asked) return null;
  return techniqueLocation(session, asked.project, technique) ?? null;
}

interface Asked {
  readonly reports: PanelReports;
  readonly project: Project;
  readonly own: Own;
  readonly question: Question;
  readonly names: PanelNames;
  readonly params: PanelParams;
}

function sectionsOf(asked: Asked): Sections {
  const { names } = asked;
  if (names.segments.size === 0 && names.techniques.size === 0) {
    return {
      ...nothing,
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

function rankingSection({ reports, project, own, question, names, params }: Asked): Sections {
  if (names.techniques.size === 0) return { ...nothing, message: noTechnique };
  const target = names.segments.size === 0 ? undefined : targetOf(project, own)?.seconds;
  const asked = params.objective === 'target' ? target : undefined;
  const { report, fresh } = reports.ranking(project, question, params.wait, asked);
  const { midwayPerStep } = resolveConstants(question.constants);
  return {
    ...nothing,
    ranking: report ? rankingView(report, names, midwayPerStep, target) : null,
    pending: fresh ? null : 'Ranking what to practise next',
  };
}

function curveSection({ reports, project, own, question, names, params }: Asked): Sections {
  const wanted = params.technique === null ? undefined : currentId(project, params.technique);
  const ranked = reports.ranking(project, question, false).report?.rows[0]?.technique;
  const first = ranked !== undefined && names.techniques.has(ranked) ? ranked : undefined;
  const technique = wanted ?? first ?? [...names.techniques.keys()][0];
  if (technique === undefined) return { ...nothing, message: noTechnique };
  const week = reports.weekQuestion(project, own, question);
  const { report: plan, fresh: planFresh } = reports.week(project, question, week, params.wait);
  const { blocks, basis } = blocksOf(plan, technique) ?? oneADay(question);
  const ahead = { blocks, until: basis.until };
  const { report, fresh } = reports.curve(project, question, technique, ahead, params.wait && planFresh);
  const name = plainText(names.techniques.get(technique) ?? technique);
  return {
    ...nothing,
    curve: report ? curveView(report, technique, question.asOfDay, basis, names) : null,
    pending: fresh && planFresh ? null : `Working out the curve of ${name}`,
  };
}

function weekSection({ reports, project, own, question, names, params }: Asked): Sections {
  if (names.techniques.size === 0) return { ...nothing, message: noTechnique };
  const asked = reports.weekQuestion(project, own, question);
  if (asked.givenMinutes.every((minutes) => minutes === 0)) return { ...nothing, message: noMinutes };
  const { report, fresh } = reports.week(project, question, asked, params.wait);
  if (!report) return { ...nothing, pending: 'Planning the week' };
  const gap = reports.gap(report);
  const { runMinutes, givenMinutes } = asked;
  const off = new Set(own.week?.document.off.map(({ date }) => date));
  return {
    ...nothing,
    week: weekView(report, gap, { runMinutes, givenMinutes, off }, names),
    pending: fresh ? null : 'Planning the week',
    more: fresh && gap.method === 'not bounded',
  };
}

const noMinutes =
  'No day has minutes for practice yet. Write them into the week file, for example days: { mon: 60, wed: 60, sat: 90 }, and the plan follows.';

function runSection({ reports, project, own, question, names, params }: Asked): Sections {
  if (names.segments.size === 0) {
    const message = 'The route has no segment yet. Add one under segments: with its id and usual time.';
    return { ...nothing, message };
  }
  const target = targetOf(project, own)?.seconds ?? null;
  const { report, fresh } = reports.run(project, question, target, params.wait);
  return {
    ...nothing,
    run: report ? runView(report.odds, report.times, names) : null,
    pending: fresh ? null : 'Working out the odds of the run',
  };
}

/** The blocks that the plan has of a technique; undefined where it has none. */
function blocksOf(
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
function oneADay(question: Question): {
  readonly blocks: readonly PlannedBlock[];
  readonly basis: ForecastBasis;
} {
  const until = question.asOfDay + daysAhead;
  const basis = { blocks: daysAhead, until, planned: false, blockMinutes: question.options.blockMinutes };
  return { blocks: dailyBlocks(question), basis };
}

function namesOf(project: Project, own: Own, { states }: Question): PanelNames {
  const week = own.week?.document;
  const ids = (list: readonly { readonly id: string }[] | undefined): Set<string> =>
    new Set((list ?? []).map(({ id }) => currentId(project, id) ?? id));
  return {
    techniques: new Map([...project.techniques].map(([id, { name }]) => [id, name])),
    segments: new Map(project.segments.map(({ id, name }) => [id, name])),
    states,
    pinned: ids(week?.pin),
    leftOut: ids(week?.leaveOut),
  };
}

function dateText({ asOfDay }: Question): string {
  return formatDate(asOfDay);
}
