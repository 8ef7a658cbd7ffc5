import type { RankRow } from '../../model/core/types.ts';
import type { RankParams, RankResult, TechniqueLine } from '../../protocol/messages/rank.ts';
import type { ProtocolLocation } from '../../protocol/places.ts';
import {
  formatCount,
  formatTwoFigures,
  formatHours,
  formatRange,
  formatPercent,
  formatList,
} from '../../text/format.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import type { ProjectFile, Project } from '../../workspace/project.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import { techniqueLocation } from '../editing/definition.ts';
import { fileName, type Session } from '../server/session.ts';

/** The ranking of the route that a file belongs to, in numbers and in words; or why there is none. */
export function rankRoute(session: Session, { uri, all = false }: RankParams): RankResult {
  const asked = resolveProject(session, uri);
  if ('message' in asked) return { message: asked.message, title: '', lines: [], skipped: [] };
  const { project, own } = asked;
  const report = session.estimates.ranking(project, own, all);
  const line = (technique: string): TechniqueLine => {
    const location: ProtocolLocation | undefined = techniqueLocation(session, project, technique);
    const name = sanitizeForTerminal(project.techniques.get(technique)?.name ?? technique);
    return { technique, name, ...(location && { location }) };
  };
  return {
    report,
    title: `${routeName(project)}, as of ${report.asOf}`,
    lines: report.rows.map((row) => ({
      ...line(row.technique),
      gain: `${formatRange(row, 's per hour')}, ${formatTwoFigures(row.gainPerHour)} expected`,
      detail: detailOf(row, (technique) => line(technique).name),
      reason: sanitizeForTerminal(row.reason),
    })),
    skipped: report.skipped.map(({ technique, reason }) => ({
      ...line(technique),
      reason: sanitizeForTerminal(reason),
    })),
    ...(report.rows.length === 0 && { message: 'No technique is left to rank.' }),
  };
}

/** What a row says beside its gain: short, since an editor shows one line of it. */
function detailOf(row: RankRow, nameOf: (technique: string) => string): string {
  return [
    `${formatHours(row.hours)} in ${formatCount(row.blocks, 'block')}`,
    `in a run ${formatPercent(row.runNow.mean)} → ${formatPercent(row.runThen.mean)}`,
    `competent then: ${formatPercent(row.chanceCompetent)} likely`,
    ...(row.opensWith.length > 0 ? [`with ${formatList(row.opensWith.map(nameOf))}`] : []),
  ].join(' · ');
}

/** Game and category as people say them. */
export function routeName({ route }: Project): string {
  const { game, category } = route.document;
  const name = [game, category].filter((part) => part !== undefined).join(', ');
  return sanitizeForTerminal(name) || fileName(route.uri);
}

/** The project and runner that a request about a file means, or why that cannot be told. */
export function resolveProject(
  session: Session,
  uri: string,
): { project: Project; own: RunnerFiles } | { message: string } {
  const file = session.file(uri);
  if (!file) {
    return {
      message: 'This file is no route, practice, runs or week file. Open one of these and ask again.',
    };
  }
  const project = session.workspace.projectOf(file.uri);
  if (!project) return { message: strayMessage(file) };
  const own = runnerFilesOf(project);
  if (!('runners' in own)) return { project, own };
  return {
    message: `The logs name several runners (${own.runners.map(sanitizeForTerminal).join(', ')}). Keep each runner's logs in a folder of their own, with a copy of the route.`,
  };
}

function strayMessage(file: ProjectFile): string {
  const name = fileName(file.uri);
  const named = file.kind === 'route' ? undefined : file.document.route;
  return named === undefined
    ? `${name} does not say which route it belongs to. Add a line such as route: my.route.yaml at its top.`
    : `${name} belongs to the route ${sanitizeForTerminal(named)}, which is not among the opened files. Mend its route: line or open the folder that holds the route.`;
}
