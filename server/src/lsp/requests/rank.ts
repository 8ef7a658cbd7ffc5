import type { Steps } from '../../incremental/steps.ts';
import type { PracticePackage, RankRow } from '../../model/core/results.ts';
import { gambleText, isGamble } from '../../model/rank/gamble.ts';
import type { RankParams, RankResult, TechniqueLine } from '../../protocol/messages/rank.ts';
import type { ProtocolLocation } from '../../protocol/places.ts';
import {
  formatCount,
  formatTwoFigures,
  formatHours,
  formatRange,
  rangeDecimals,
  formatPercent,
  formatList,
} from '../../text/format.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { packageName, rankingParts } from '../../reports/rank/packageRows.ts';
import { nameTechniques } from '../../reports/techniqueNames.ts';
import { inSetMark } from '../../queries/standingText.ts';
import { standingFieldsOf, standingReportOf, standingsById } from '../../reports/standingReports.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { techniqueLocation } from '../editing/definition.ts';
import type { FileServices } from '../documents/fileServices.ts';
import type { Estimates } from '../estimates/estimates.ts';
import { resolveForModel, routeName } from './resolveProject.ts';

export interface RankNeeds extends FileServices {
  readonly estimates: Estimates;
}

/** The ranking of a file's route, in numbers and in words; or why it cannot be ranked. */
export function rankHandler(needs: RankNeeds): (params: RankParams) => Steps<RankResult> {
  return ({ uri, all = false }) => rankRoute(needs, uri, all);
}

function* rankRoute(needs: RankNeeds, uri: string, all: boolean): Steps<RankResult> {
  const resolved = resolveForModel(needs.workspace, uri);
  if ('message' in resolved)
    return { message: resolved.message, title: '', route: '', lines: [], skipped: [] };
  const { project, own } = resolved;
  const report = yield* needs.estimates.ranking(project, own, all);
  const nameOf = (technique: string): string =>
    sanitizeForTerminal(project.techniques.get(technique)?.name ?? technique);
  const standings = standingsById(report.standings);
  const line = (technique: string): TechniqueLine => {
    const location: ProtocolLocation | undefined = techniqueLocation(needs, project, technique);
    const fields = standingFieldsOf(standingReportOf(standings, technique).standing);
    const standingText = fields.inSet ? `${fields.standingText}, ${inSetMark}` : fields.standingText;
    return { technique, name: nameOf(technique), ...fields, standingText, ...(location && { location }) };
  };
  const names = techniqueNamesOf(project);
  const decimals = rangeDecimals(report.rows);
  const sentence = (text: string): string => sanitizeForTerminal(nameTechniques(text, names));
  return {
    report,
    title: `${routeName(project)}, as of ${report.asOf}`,
    route: routeName(project),
    lines: rankingParts(report.rows).flatMap((part) =>
      part.rows.map(({ row, place }) => ({
        ...line(row.technique),
        gain: `${formatTwoFigures(row.gainPerHour)} s per hour (${formatRange(row, 's', decimals)})`,
        detail: detailOf(row, nameOf),
        reason: sentence(row.reason),
        ...(part.package !== null && { inPackage: true }),
        ...(part.package !== null &&
          place === part.rows[0]!.place && {
            packageLine: packageLine(part.package, nameOf),
          }),
      })),
    ),
    skipped: report.skipped.map(({ technique, reason }) => ({
      ...line(technique),
      reason: sentence(reason),
    })),
    ...(report.rows.length === 0 && { message: 'No technique is left to rank.' }),
  };
}

/** What the line of a package says. */
function packageLine(whole: PracticePackage, nameOf: (technique: string) => string) {
  return {
    name: packageName(whole, nameOf),
    gain: `${formatTwoFigures(whole.gainPerHour)} s per hour together`,
    detail: `${formatHours(whole.hours)} in ${formatCount(whole.blocks, 'block')} · practised together, since one needs the other`,
  };
}

/** What a row says in addition to its gain: short, since an editor shows one line of it. */
function detailOf(row: RankRow, nameOf: (technique: string) => string): string {
  return [
    `in a run ${formatPercent(row.runNow.mean)} → ${formatPercent(row.runThen.mean)} after ${formatHours(row.hours)} in ${formatCount(row.blocks, 'block')}`,
    isGamble(row)
      ? gambleText(row.chanceCompetent)
      : `competent then: ${formatPercent(row.chanceCompetent)} likely`,
    ...(row.opensWith.length > 0 ? [`with ${formatList(row.opensWith.map(nameOf))}`] : []),
  ].join(' · ');
}
