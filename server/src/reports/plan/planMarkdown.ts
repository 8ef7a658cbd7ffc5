import { formatTwoFigures, formatNumber, formatRange } from '../../text/format.ts';
import { escapeMarkdownToPaste } from '../../safeText/markdown.ts';
import { unusedText } from './planNotes.ts';
import { dayLabel, type PlanReport } from './planReport.ts';

/**
 * A plan as a Markdown table, for pasting into notes or a message: the coming week, and its expected gain.
 *
 * @param names of techniques by id
 */
export function planMarkdown(report: PlanReport, names: ReadonlyMap<string, string>): string {
  const name = (id: string): string => escapeMarkdownToPaste(names.get(id) ?? id);
  const week = report.days.slice(0, 7);
  const lines = ['| Day | Practice | Runs |', '| --- | --- | ---: |'];
  for (const { date, blocks, runMinutes, unused } of week) {
    const practice = blocks.map(({ technique, minutes, rest }) => {
      const after = rest > 0 ? `, rest ${rest} min` : '';
      return `${name(technique)} ${minutes} min${after}`;
    });
    const left = unusedText(unused);
    const runs = runMinutes > 0 ? `${formatNumber(runMinutes, 0)} min` : '';
    lines.push(
      `| ${dayLabel(date)} | ${[...practice, ...(left === undefined ? [] : [left])].join('<br>')} | ${runs} |`,
    );
  }
  const last = report.forecast.at(-1);
  if (last && last.gain > 0) {
    const range = formatRange(last, 's');
    lines.push(
      '',
      `Expected gain by the morning of ${last.date}: ${formatTwoFigures(last.gain)} s (${range}).`,
    );
  }
  return `${lines.join('\n')}\n`;
}
