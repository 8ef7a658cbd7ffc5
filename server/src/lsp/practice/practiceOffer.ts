import { Utils, URI } from 'vscode-uri';
import { stemOf } from '../../files/fileKind.ts';
import type { TechniqueState, Technique } from '../../files/documents/documents.ts';
import type { Moment } from '../../text/calendar.ts';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { scalarToYaml } from '../../files/edit/flowYaml.ts';
import { minutesPractised } from '../../model/week/minutesPractised.ts';
import type {
  LogFile,
  OfferedTechnique,
  PracticeOfferParams,
  PracticeOfferResult,
} from '../../protocol/practice.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { stateLabels } from '../../queries/techniqueStates.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { Project, SourceFile } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { normalUri } from '../documents/openDocuments.ts';
import type { PanelReports } from '../estimates/panelReports.ts';
import type { PracticeLogs } from './practiceLogs.ts';
import { resolveProject, routeName } from '../requests/rank.ts';
import { fileName, type Session } from '../server/session.ts';

/** What can be practised and logged along the route that a file belongs to, with today's next block of the plan. */
export async function practiceOffer(
  session: Session,
  reports: PanelReports,
  logs: PracticeLogs,
  { uri, plan }: PracticeOfferParams,
): Promise<PracticeOfferResult> {
  const asked = resolveProject(session, normalUri(uri));
  if ('message' in asked) return asked;
  const { project, own } = asked;
  if (project.techniques.size === 0)
    return {
      message: 'The route has no technique yet. Add one under techniques: and run the command again.',
    };
  const practice = await logFileOf(session, project, own, 'practice', uri);
  if ('message' in practice) return practice;
  const runs = await logFileOf(session, project, own, 'runs', uri);
  if ('message' in runs) return runs;
  const { states, asOfDay, logs: entries } = session.estimates.modelInput(project, own);
  const minutes = own.week?.document.block ?? weekDefaults.block;
  const offered = (technique: Technique, length = minutes): OfferedTechnique =>
    offeredTechnique(technique, states.get(technique.id) ?? 'unlearned', length);
  const first = plan ? firstBlock(session, reports, project, own) : undefined;
  const technique = first && project.techniques.get(first.technique);
  return {
    route: routeName(project),
    practice,
    runs,
    next: technique ? offered(technique, first.minutes) : null,
    techniques: [...project.techniques.values()].map((one) => offered(one)),
    segments: project.segments.map(({ id, name }) => ({ id, name: sanitizeForTerminal(name) })),
    promise: logs.promise(practice.uri),
    caution: overuseWarning(own, asOfDay) ?? null,
    minutesToday: minutesPractised(entries.practice, asOfDay),
  };
}

function offeredTechnique(
  { id, name, practice }: Technique,
  state: TechniqueState,
  minutes: number,
): OfferedTechnique {
  return {
    technique: id,
    name: sanitizeForTerminal(name),
    minutes,
    from: sanitizeForTerminal(practice.from ?? ''),
    cycle: practice.attempt + practice.reload,
    inRun: state === 'in-run',
    state: stateLabels[state],
  };
}

/** The first block that the plan has for what is left of today. */
function firstBlock(session: Session, reports: PanelReports, project: Project, own: RunnerFiles) {
  reports.keepOnly(session.workspace.groups().projects);
  const question = session.estimates.modelInput(project, own);
  const asked = reports.weekPlanInput(project, own, question);
  if (asked.planInput.minutes[0] === 0) return undefined;
  return reports.week(project, question, asked, true).report?.days[0]?.blocks[0];
}

/**
 * The log that entries go into: the one asked about, else the one of the route with the latest entry, else one to be
 * begun beside the route.
 */
async function logFileOf(
  session: Session,
  project: Project,
  own: RunnerFiles,
  kind: 'practice' | 'runs',
  asked: string,
): Promise<LogFile | { readonly message: string }> {
  const { uri: route } = project.route;
  const files: readonly (SourceFile<{ readonly route: string | undefined }> & { last: number })[] =
    kind === 'practice'
      ? own.practice.map((file) => ({ ...file, last: latestStart(file.document.sessions) }))
      : own.runs.map((file) => ({ ...file, last: latestStart(file.document.runs) }));
  const ofRoute = files.filter(({ uri, document }) => routeUri(uri, document.route) === route);
  const given = ofRoute.find(({ uri }) => uri === normalUri(asked));
  const newest = [...ofRoute].sort((a, b) => a.last - b.last || (a.uri < b.uri ? -1 : 1)).at(-1);
  const found = given ?? newest;
  if (found) return { uri: session.documents.spelling(found.uri), begin: null };
  const uri = `${stemOf(route)}.${kind}.yaml`;
  if (session.workspace.file(uri) || (await session.exists(uri)))
    return {
      message: `${fileName(uri)} exists, but is no log of ${fileName(route)} and this runner: see its route: and runner: lines.`,
    };
  const lines = [`route: ${scalarToYaml(Utils.basename(URI.parse(route)))}`];
  if (own.runner !== undefined) lines.push(`runner: ${scalarToYaml(own.runner)}`);
  return { uri, begin: [...lines, kind === 'runs' ? 'runs: []' : 'sessions: []', ''].join('\n') };
}

function latestStart(entries: readonly { readonly start: Moment }[]): number {
  return entries.reduce(
    (last, { start: { date, minute } }) => Math.max(last, date * 1440 + (minute ?? 0)),
    Number.NEGATIVE_INFINITY,
  );
}
