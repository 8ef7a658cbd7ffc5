import type { Technique } from '../../files/documents/documents.ts';
import type { Standing } from '../../model/rank/techniqueEstimator.ts';
import type { Assessment, Count, Estimate, Logs } from '../../model/core/types.ts';
import {
  counted,
  decimalsFor,
  formatHours,
  formatNumber,
  formatRange,
  formatShare,
  formatShares,
  listed,
} from '../../text/format.ts';
import type { TechniqueNumbers } from './techniqueEstimators.ts';
import { curveText } from './curveText.ts';
import { markdown } from '../editing/escapeMarkdown.ts';

/** What is known of one technique, to be said in a few lines. */
export interface TechniqueFacts extends TechniqueNumbers {
  readonly technique: Technique;
}

const stateWords = {
  unlearned: 'not begun',
  learning: 'being learned',
  'in-run': 'in the run',
} as const;

/** The numbers of a technique and where they come from, as Markdown. */
export function techniqueText({ technique, question, assessment, standing, curve }: TechniqueFacts): string {
  const { id, name, difficulty } = technique;
  const state = stateWords[question.states.get(id) ?? 'unlearned'];
  const head = `**${markdown(name)}** · difficulty ${difficulty} of 10 · ${state}`;
  const chart = curve ? curveText(curve, question.options.blockMinutes) : '';
  const parts = [head, rows(assessment, standing).join('\n'), chart, `_${evidence(id, question.logs)}_`];
  return parts.filter((part) => part !== '').join('\n\n');
}

function rows(assessment: Assessment | undefined, standing: Standing | undefined): string[] {
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
  if (standing && 'gains' in standing) {
    const { gains } = standing;
    lines.push([
      'Practice gains',
      `${formatRange(gains, 's per hour')}, ${formatNumber(gains.gainPerHour, decimalsFor(gains))} on average`,
    ]);
    lines.push([
      'Best stop',
      `after ${formatHours(gains.hours)} (${counted(gains.blocks, 'block')} of ${gains.blockMinutes} min)`,
    ]);
  } else if (standing) {
    lines.push(['Not ranked', markdown(standing.notRanked)]);
  }
  return ['| | |', '|:--|:--|', ...lines.map(([label, text]) => `| ${label} | ${text} |`)];
}

/** `41 % (33 to 49 %)`: the mean with its 80 % range. */
function rateText(rate: Estimate): string {
  return `${formatShare(rate.mean)} (${formatShares(rate)})`;
}

/** Where a technique's numbers come from, in one line. */
function evidence(id: string, { practice, runs }: Logs): string {
  const own = practice.filter(({ technique }) => technique === id);
  const parts = [
    ...countsOf(own, 'practice day'),
    ...countsOf(
      runs.filter(({ technique }) => technique === id),
      'run day',
    ),
  ];
  if (parts.length > 0) return `From ${listed(parts)}. Ranges hold 80 % of what is likely.`;
  const guess = 'the difficulty and what is known of the runner give the numbers';
  return own.length > 0
    ? `Practised, but no attempts counted: ${guess}. Ranges hold 80 % of what is likely.`
    : `No attempts logged: ${guess}. Ranges hold 80 % of what is likely.`;
}

/** `12 practice days (310 of 804 landed)`; nothing where nothing was counted. */
function countsOf(
  entries: readonly { readonly day: number; readonly counted?: Count }[],
  unit: string,
): string[] {
  const days = new Set<number>();
  let landed = 0;
  let tries = 0;
  for (const { day, counted: count } of entries) {
    if (!count) continue;
    days.add(day);
    landed += count.landed;
    tries += count.tries;
  }
  return days.size > 0 ? [`${counted(days.size, unit)} (${landed} of ${tries} landed)`] : [];
}
