import type { Technique } from '../../files/documents/documents.ts';
import type { GainsOrReason } from '../../model/rank/techniqueEstimator.ts';
import type { AttemptCount, Estimate, Logs } from '../../model/core/types.ts';
import type { Assessment } from '../../model/core/results.ts';
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
import type { TechniqueEstimates } from './techniqueEstimators.ts';
import { curveText } from './curveText.ts';
import { stateLabels } from '../../queries/techniqueStates.ts';
import { escapeMarkdown } from '../../text/markdown.ts';

/** The facts about one technique that a hover shows in a few lines. */
export interface TechniqueFacts extends TechniqueEstimates {
  readonly technique: Technique;
}

/** The numbers of a technique and where they come from, as Markdown. */
export function techniqueText({
  technique,
  modelInput,
  assessment,
  rankingOutcome,
  curve,
}: TechniqueFacts): string {
  const { id, name, difficulty } = technique;
  const state = stateLabels[modelInput.states.get(id) ?? 'unlearned'];
  const head = `**${escapeMarkdown(name)}** · difficulty ${difficulty} of 10 · ${state}`;
  const chart = curve ? curveText(curve, modelInput.options.blockMinutes) : '';
  const parts = [
    head,
    rows(assessment, rankingOutcome).join('\n'),
    chart,
    `_${evidence(id, modelInput.logs)}_`,
  ];
  return parts.filter((part) => part !== '').join('\n\n');
}

function rows(assessment: Assessment | undefined, outcome: GainsOrReason | undefined): string[] {
  const lines: [string, string][] = [];
  if (assessment) {
    const { practiceNow, runNow, breakEven, chanceAboveBreakEvenNow } = assessment;
    lines.push(['Lands in practice now', rateText(practiceNow)]);
    lines.push(['Lands in a run now', rateText(runNow)]);
    lines.push([
      'Break-even in a run',
      breakEven === null
        ? 'none: it saves nothing by itself'
        : `${formatPercent(breakEven)}; above it already: ${formatPercent(chanceAboveBreakEvenNow)} likely`,
    ]);
  }
  if (outcome && 'gains' in outcome) {
    const { gains } = outcome;
    lines.push([
      'Practice gains',
      `${formatRange(gains, 's per hour')}, ${formatNumber(gains.gainPerHour, decimalsFor(gains))} on average`,
    ]);
    lines.push([
      'Best stop',
      `after ${formatHours(gains.hours)} (${formatCount(gains.blocks, 'block')} of ${gains.blockMinutes} min)`,
    ]);
  } else if (outcome) {
    lines.push(['Not ranked', escapeMarkdown(outcome.notRanked)]);
  }
  return ['| | |', '|:--|:--|', ...lines.map(([label, text]) => `| ${label} | ${text} |`)];
}

/** `41 % (33 to 49 %)`: the mean with its 80 % range. */
function rateText(rate: Estimate): string {
  return `${formatPercent(rate.mean)} (${formatPercentRange(rate)})`;
}

/** Which logged attempts a technique's numbers come from, in one line. */
function evidence(id: string, { practice, runs }: Logs): string {
  const own = practice.filter(({ technique }) => technique === id);
  const parts = [
    ...countsOf(own, 'practice day'),
    ...countsOf(
      runs.filter(({ technique }) => technique === id),
      'run day',
    ),
  ];
  if (parts.length > 0) return `From ${formatList(parts)}. Ranges hold 80 % of what is likely.`;
  const guess = 'the difficulty and what is known of the runner give the numbers';
  return own.length > 0
    ? `Practised, but no attempts counted: ${guess}. Ranges hold 80 % of what is likely.`
    : `No attempts logged: ${guess}. Ranges hold 80 % of what is likely.`;
}

/** `12 practice days (310 of 804 landed)`; an empty list where no attempt was counted. */
function countsOf(
  entries: readonly { readonly day: number; readonly counted?: AttemptCount }[],
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
  return days.size > 0 ? [`${formatCount(days.size, unit)} (${landed} of ${tries} landed)`] : [];
}
