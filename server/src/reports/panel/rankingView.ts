import { formatTime } from '../../text/time.ts';
import { answerableObjectives, objectives } from '../../model/rank/objectives/objectives.ts';
import type { RankRow } from '../../model/core/results.ts';
import type { RankingView } from '../../protocol/panel/rankingView.ts';
import type { Fact } from '../../protocol/panel/viewParts.ts';
import {
  formatCount,
  rangeDecimals,
  formatHours,
  formatMinutes,
  formatTwoFigures,
  formatNumber,
  formatRange,
  formatPercent,
  formatPercentRange,
  formatList,
} from '../../text/format.ts';
import { breakEvenText } from '../breakEvenText.ts';
import { plainLines, plainNeeds } from '../explain/plainLines.ts';
import { preferenceSentence } from '../explain/preferenceText.ts';
import { packageName, placesText, rankingParts } from '../rank/packageRows.ts';
import { nameTechniques } from '../techniqueNames.ts';
import { gambleText, isGamble } from '../../model/rank/gamble.ts';
import type { ResetPreference } from '../../model/rank/resetPreference.ts';
import { nameLookup } from '../../queries/names.ts';
import { inSetMark } from '../../queries/standingText.ts';
import { gainUnitOf, targetSentence } from '../rank/gainFormat.ts';
import { numberTicks, techniqueInfo, techniqueName, type PanelNames } from './panelNames.ts';
import { standingReportOf, standingsById, type StandingsById } from '../standingReports.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { runnerSentence } from '../runnerText.ts';

/**
 * The ranking as the panel shows it.
 *
 * @param offsetPerStep by how much each step of difficulty moves the half-way point, in log practice
 * @param target seconds; undefined where there is no time to beat
 * @param preference the first places at other weights of a second lost to resets; null where they are not known
 */
export function rankingView(
  report: RankReport,
  names: PanelNames,
  offsetPerStep: number,
  target: number | undefined,
  preference: ResetPreference | null,
): RankingView {
  const { scale, perHour, axisLabel } = gainUnitOf(report);
  const clock = (seconds: number): string => formatTime(seconds, seconds % 1 === 0 ? 0 : 1);
  const nameOf = (technique: string): string => techniqueName(names, technique);
  const sentence = (text: string): string => sanitizeForTerminal(nameTechniques(text, names.techniques));
  const standings = standingsById(report.standings);
  const choices = answerableObjectives({ target });
  const gains = report.rows.map(({ gainPerHour, low, high }) => ({
    mean: scale * gainPerHour,
    low: scale * low,
    high: scale * high,
  }));
  const decimals = rangeDecimals(gains);
  const most = gains.reduce((top, { high, mean }) => Math.max(top, high, mean), 0);
  return {
    rows: rankingParts(report.rows).flatMap((part) =>
      part.rows.map(({ row, place }) => {
        const gain = gains[place - 1]!;
        return {
          ...techniqueInfo(names, standings, row.technique),
          place,
          gain,
          gainText: formatRange(gain, perHour, decimals),
          expectedText: `${formatNumber(gain.mean, decimals)} expected`,
          hoursText: formatHours(row.hours),
          facts: rowFacts(row, nameOf),
          reason: sentence(row.reason),
          lines: rowLines(row, place, { report, names, standings }).map(sanitizeForTerminal),
          inPackage: part.package !== null,
          package:
            part.package !== null && place === part.rows[0]!.place
              ? {
                  places: placesText(part),
                  name: packageName(part.package, nameOf),
                  gainText: `${formatTwoFigures(scale * part.package.gainPerHour)} ${perHour} together`,
                  hoursText: formatHours(part.package.hours),
                }
              : null,
        };
      }),
    ),
    skipped: report.skipped.map(({ technique, reason }) => ({
      ...techniqueInfo(names, standings, technique),
      reason: sentence(reason),
    })),
    setMark: inSetMark,
    ticks: numberTicks(0, most, (value) => formatNumber(value, value % 1 === 0 ? 0 : 1)),
    axisLabel,
    objectives: choices.map(({ id, choiceLabel }) => ({
      objective: id,
      label: choiceLabel(target === undefined ? '' : clock(target)),
    })),
    targetText: targetSentence(report, clock) ?? null,
    preferenceText: preference && sanitizeForTerminal(preferenceSentence(preference, nameOf)),
    runnerText: runnerSentence(report.runner, offsetPerStep),
  };
}

/** What the plain lines of a row rest on, besides the row. */
interface RowContext {
  readonly report: RankReport;
  readonly names: PanelNames;
  readonly standings: StandingsById;
}

/** The plain lines of a row; none where gains are not seconds. */
function rowLines(row: RankRow, place: number, { report, names, standings }: RowContext): string[] {
  if (report.objective !== objectives[0].id) return [];
  const { technique, runNow, breakEven, resetWeight, openNeeds } = row;
  const nameOf = nameLookup(names.techniques);
  const { standing, reason } = standingReportOf(standings, technique);
  return plainLines({
    standing: reason,
    kind: standing,
    ...{ runNow, breakEven, resetWeight, gains: row, notRanked: undefined },
    place: { place, of: report.rows.length },
    needs: plainNeeds(names.needs.get(technique) ?? [], openNeeds, nameOf),
    others: names.othersOf(technique),
    opens: [...names.needs].filter(([, needs]) => needs.includes(technique)).map(([id]) => nameOf(id)),
  });
}

function rowFacts(row: RankRow, nameOf: (technique: string) => string): Fact[] {
  const facts: Fact[] = [
    {
      label: 'Best stop',
      text: `after ${formatHours(row.hours)}: ${formatCount(row.blocks, 'daily block')} of ${formatMinutes(row.blockMinutes)}`,
    },
    {
      label: 'Lands in practice',
      text: `${formatPercent(row.practiceNow.mean)} now (${formatPercentRange(row.practiceNow)})`,
    },
    {
      label: 'Lands in a run',
      text: `${formatPercent(row.runNow.mean)} now (${formatPercentRange(row.runNow)}), then ${formatPercent(row.runThen.mean)} (${formatPercentRange(row.runThen)})`,
    },
    {
      label: 'Break-even in a run',
      text: breakEvenText(row.breakEven, row.resetWeight),
    },
    {
      label: 'Competent by then',
      text: isGamble(row) ? gambleText(row.chanceCompetent) : `${formatPercent(row.chanceCompetent)} likely`,
    },
    {
      label: 'Practice until competent',
      text: untilCompetent(row),
    },
    { label: 'Best of all rows', text: `${formatPercent(row.chanceBest)} likely` },
  ];
  if (row.opensWith.length > 0) {
    facts.push({ label: 'Practised together with', text: formatList(row.opensWith.map(nameOf)) });
  }
  return facts;
}

/** How much practice it takes until the technique is competent, in half of all cases and in 9 of 10. */
function untilCompetent({ hoursToCompetent: { p10, p50, p90 } }: RankRow): string {
  const late = 'more than the forecast covers';
  if (p10 === null) return `${late}, in 9 of 10 cases`;
  const within = (hours: number, cases: string): string =>
    hours === 0 ? `none in ${cases}` : `${formatHours(hours)} or less in ${cases}`;
  if (p50 === null) return `${within(p10, '1 of 10 cases')}; ${late} in half of them`;
  if (p90 === null) return `${within(p50, 'half of the cases')}; ${late} in 1 of 10`;
  return p90 === 0
    ? 'none in 9 of 10 cases'
    : `${within(p50, 'half of the cases')}; ${within(p90, '9 of 10')}`;
}
