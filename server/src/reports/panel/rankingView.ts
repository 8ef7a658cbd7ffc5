import { formatTime } from '../../text/time.ts';
import { answerableObjectives } from '../../model/rank/objectives/objectives.ts';
import type { RankRow } from '../../model/core/results.ts';
import type { RankingView } from '../../protocol/panel/rankingView.ts';
import type { Fact } from '../../protocol/panel/viewParts.ts';
import {
  formatCount,
  decimalsFor,
  formatHours,
  formatNumber,
  formatRange,
  formatPercent,
  formatPercentRange,
  formatList,
} from '../../text/format.ts';
import { gainUnitOf, targetSentence } from '../rank/gainFormat.ts';
import { numberTicks, techniqueInfo, type PanelNames } from './panelNames.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { runnerSentence } from '../runnerText.ts';

/**
 * The ranking as the panel shows it.
 *
 * @param offsetPerStep by how much each step of difficulty moves the half-way point, in log practice
 * @param target seconds; null where there is no time to beat
 */
export function rankingView(
  report: RankReport,
  names: PanelNames,
  offsetPerStep: number,
  target: number | undefined,
): RankingView {
  const { scale, perHour, axisLabel } = gainUnitOf(report);
  const clock = (seconds: number): string => formatTime(seconds, seconds % 1 === 0 ? 0 : 1);
  const choices = answerableObjectives({ target });
  const gains = report.rows.map(({ gainPerHour, low, high }) => ({
    mean: scale * gainPerHour,
    low: scale * low,
    high: scale * high,
  }));
  const most = gains.reduce((top, { high, mean }) => Math.max(top, high, mean), 0);
  return {
    rows: report.rows.map((row, index) => ({
      ...techniqueInfo(names, row.technique),
      place: index + 1,
      gain: gains[index]!,
      gainText: formatRange(gains[index]!, perHour),
      expectedText: `${formatNumber(gains[index]!.mean, decimalsFor(gains[index]!))} expected`,
      hoursText: formatHours(row.hours),
      facts: rowFacts(row, names),
      reason: sanitizeForTerminal(row.reason),
    })),
    skipped: report.skipped.map(({ technique, reason }) => ({
      ...techniqueInfo(names, technique),
      reason: sanitizeForTerminal(reason),
    })),
    ticks: numberTicks(0, most, (value) => formatNumber(value, value % 1 === 0 ? 0 : 1)),
    axisLabel,
    objectives: choices.map(({ id, choiceLabel }) => ({
      objective: id,
      label: choiceLabel(target === undefined ? '' : clock(target)),
    })),
    targetText: targetSentence(report, clock) ?? null,
    runnerText: runnerSentence(report.runner, offsetPerStep),
  };
}

function rowFacts(row: RankRow, names: PanelNames): Fact[] {
  const facts: Fact[] = [
    {
      label: 'Best stop',
      text: `after ${formatHours(row.hours)}: ${formatCount(row.blocks, 'daily block')} of ${row.blockMinutes} min`,
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
      text: row.breakEven === null ? 'none: it saves nothing by itself' : formatPercent(row.breakEven),
    },
    {
      label: 'Competent by then',
      text: `${formatPercent(row.chanceCompetent)} likely`,
    },
    {
      label: 'Practice until competent',
      text: untilCompetent(row),
    },
    { label: 'Best of all rows', text: `${formatPercent(row.chanceBest)} likely` },
  ];
  if (row.opensWith.length > 0) {
    const with_ = row.opensWith.map((id) => techniqueInfo(names, id).name);
    facts.push({ label: 'Practised together with', text: formatList(with_) });
  }
  return facts;
}

function untilCompetent({ hoursToCompetent: { p10, p50, p90 } }: RankRow): string {
  const beyond = 'beyond the horizon';
  if (p10 === null) return beyond;
  const hours = (value: number | null): string => (value === null ? beyond : formatHours(value));
  if (p50 === 0) {
    const most = p90 === 0 ? 'none' : p90 === null ? beyond : `up to ${formatHours(p90)}`;
    return `none as likely as not; ${most} in 9 of 10 cases`;
  }
  return `${hours(p50)} as likely as not; ${p10 === 0 ? 'none' : formatHours(p10)} to ${hours(p90)} in 8 of 10 cases`;
}
