import type { Technique } from '../files/documents.ts';
import type { Assessment, Estimate, Logs } from '../model/types.ts';
import {
  counted,
  decimalsFor,
  formatHours,
  formatNumber,
  formatRange,
  formatShare,
  formatShares,
} from '../reports/format.ts';
import type { RankReport } from '../reports/rankReport.ts';
import type { Question } from '../workspace/question.ts';
import { markdown } from './markdown.ts';

/** What is known of one technique, to be said in a few lines. */
export interface TechniqueFacts {
  readonly technique: Technique;
  readonly question: Question;
  readonly assessment: Assessment | undefined;
  readonly report: RankReport;
}

const stateWords = {
  unlearned: 'not begun',
  learning: 'being learned',
  'in-run': 'in the run',
} as const;

/** The numbers of a technique and where they come from, as Markdown. */
export function techniqueText({ technique, question, assessment, report }: TechniqueFacts): string {
  const { id, name, difficulty } = technique;
  const state = stateWords[question.states.get(id) ?? 'unlearned'];
  const head = `**${markdown(name)}** · difficulty ${difficulty} of 10 · ${state}`;
  return [head, rows(id, assessment, report).join('\n'), `_${evidence(id, question.logs)}_`].join('\n\n');
}

function rows(id: string, assessment: Assessment | undefined, report: RankReport): string[] {
  const row = report.rows.find(({ technique }) => technique === id);
  const skipped = report.skipped.find(({ technique }) => technique === id);
  const lines: [string, string][] = [];
  if (assessment) {
    const { practiceNow, runNow, breakEven, chanceAboveBreakEvenNow } = assessment;
    lines.push(['Lands in practice now', rateText(practiceNow)]);
    lines.push(['Lands in a run now', rateText(runNow)]);
    lines.push([
      'Break-even in a run',
      breakEven === null
        ? 'none: it saves nothing by itself'
        : `${formatShare(breakEven)}; above it already: ${formatShare(chanceAboveBreakEvenNow)} likely`,
    ]);
  }
  if (row) {
    lines.push([
      'Practice gains',
      `${formatRange(row, 's per hour')}, ${formatNumber(row.gainPerHour, decimalsFor(row))} on average`,
    ]);
    lines.push([
      'Best stop',
      `after ${formatHours(row.hours)} (${counted(row.blocks, 'block')} of ${row.blockMinutes} min)`,
    ]);
  } else if (skipped) {
    lines.push(['Not ranked', markdown(skipped.reason)]);
  }
  return ['| | |', '|:--|:--|', ...lines.map(([label, text]) => `| ${label} | ${text} |`)];
}

/** `41 % (33 to 49 %)`: the mean with its 80 % range. */
function rateText(rate: Estimate): string {
  return `${formatShare(rate.mean)} (${formatShares(rate)})`;
}

/** Where a technique's numbers come from, in one line. */
export function evidence(id: string, { practice, runs }: Logs): string {
  const days = (entries: readonly { readonly technique: string; readonly day: number }[]) =>
    new Set(entries.filter(({ technique }) => technique === id).map(({ day }) => day)).size;
  const practised = days(practice.filter((entry) => entry.counted));
  const ran = days(runs);
  const parts = [
    ...(practised > 0 ? [counted(practised, 'practice day')] : []),
    ...(ran > 0 ? [counted(ran, 'run day')] : []),
  ];
  if (parts.length > 0) return `From ${parts.join(' and ')}. Ranges hold 80 % of what is likely.`;
  const guess = 'the difficulty and what is known of the runner give the numbers';
  return days(practice) > 0
    ? `Practised, but no attempts counted: ${guess}. Ranges hold 80 % of what is likely.`
    : `No attempts logged: ${guess}. Ranges hold 80 % of what is likely.`;
}
