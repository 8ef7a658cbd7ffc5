import { formatNumber } from '../../text/format.ts';
import { escapeMarkdownToPaste } from '../../safeText/markdown.ts';
import { unusedText } from './planNotes.ts';
import { dayLabel, type PlanReport } from './planReport.ts';
import { reportSummary } from './planSummary.ts';

/**
 * A plan in Markdown, for pasting into notes or a message: what to practise and what that saves, and the coming week as a table.
 *
 * @param names of techniques by id
 */
export function planMarkdown(report: PlanReport, names: ReadonlyMap<string, string>): string {
  const name = (id: string): string => escapeMarkdownToPaste(names.get(id) ?? id);
  const week = report.days.slice(0, 7);
  const summary = escapeMarkdownToPaste(reportSummary(report, (id) => names.get(id) ?? id));
  const lines = [summary, '', '| Day | Practice | Runs |', '| --- | --- | ---: |'];
  for (const { date, blocks, runMinutes, unused } of week) {
    const practice = blocks.map(({ technique, minutes, rest }) => {
      const after = rest > 0 ? `, rest ${rest} min` : '';
      return `${name(technique)} ${minutes} min${after}`;
    });
    const left = unusedText(unused, report.standings.length);
    const runs = runMinutes > 0 ? `${formatNumber(runMinutes, 0)} min` : '';
    lines.push(
      `| ${dayLabel(date)} | ${[...practice, ...(left === undefined ? [] : [left])].join('<br>')} | ${runs} |`,
    );
  }
  return `${lines.join('\n')}\n`;
}
