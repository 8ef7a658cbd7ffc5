import type { Technique } from '../../files/documents/documents.ts';
import type { GainsOrReason } from '../../model/rank/techniqueEstimator.ts';
import type { AttemptCount, Estimate } from '../../model/core/types.ts';
import type { RankInput } from '../../model/run/preparedModel.ts';
import type { Assessment } from '../../model/core/results.ts';
import {
  formatCount,
  rangeDecimals,
  formatHours,
  formatMinutes,
  formatNumber,
  formatRange,
  formatPercent,
  formatPercentRange,
  formatList,
} from '../../text/format.ts';
import { isSeldom, seldomText } from '../../model/rank/gamble.ts';
import { resetWeightOf } from '../../model/rank/resetPreference.ts';
import { breakEvenText } from '../../reports/breakEvenText.ts';
import { plainLines, plainNeeds } from '../../reports/explain/plainLines.ts';
import { othersFactsOf } from '../../reports/othersText.ts';
import { nameTechniques } from '../../reports/techniqueNames.ts';
import { formatDate } from '../../text/calendar.ts';
import type { TechniqueEstimates } from './techniqueEstimators.ts';
import { curveText } from './curveText.ts';
import { standingLabels, standingSentence } from '../../queries/standingText.ts';
import { escapeMarkdown } from '../../safeText/markdown.ts';

/** The facts about one technique that a hover shows in a few lines. */
export interface TechniqueFacts extends TechniqueEstimates {
  readonly technique: Technique;
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
}

/** A technique in plain lines, then its numbers and where they come from, as Markdown. */
export function techniqueText(facts: TechniqueFacts): string {
  const { technique, modelInput, assessment, rankingOutcome, curve, names } = facts;
  const { id, name, difficulty } = technique;
  const head = [
    `**${escapeMarkdown(name)}**`,
    `difficulty ${difficulty} of 10`,
    ...(assessment ? [standingLabels[assessment.standing.kind]] : []),
    `as of ${formatDate(modelInput.asOfDay)}`,
  ].join(' · ');
  const resetWeight = resetWeightOf(modelInput, id);
  const chart = curve ? curveText(curve, modelInput.options.blockMinutes) : '';
  const parts = [
    head,
    plainText(facts, resetWeight),
    rows(assessment, rankingOutcome, resetWeight, names).join('\n'),
    chart,
    `_${evidence(id, modelInput)}_`,
  ];
  return parts.filter((part) => part !== '').join('\n\n');
}

/** The plain lines, each on a line of its own. */
function plainText(
  { technique, modelInput, assessment, rankingOutcome, names }: TechniqueFacts,
  resetWeight: number | null,
): string {
  if (!assessment) return '';
  const { id } = technique;
  const nameOf = (other: string): string => names.get(other) ?? other;
  const gains = rankingOutcome && 'gains' in rankingOutcome ? rankingOutcome.gains : undefined;
  const reason = rankingOutcome && 'notRanked' in rankingOutcome ? rankingOutcome.notRanked : undefined;
  const lines = plainLines({
    standing: standingSentence(assessment.standing, nameOf),
    kind: assessment.standing.kind,
    runNow: assessment.runNow,
    breakEven: assessment.breakEven,
    resetWeight,
    gains,
    notRanked: reason === undefined ? undefined : nameTechniques(reason, names),
    needs: plainNeeds(
      technique.needs.map((need) => need.id),
      gains?.openNeeds,
      nameOf,
    ),
    others: othersFactsOf(modelInput, id),
    opens: modelInput.route.techniques.filter(({ needs }) => needs.includes(id)).map((one) => nameOf(one.id)),
  });
  return lines.map(escapeMarkdown).join('  \n');
}

function rows(
  assessment: Assessment | undefined,
  outcome: GainsOrReason | undefined,
  resetWeight: number | null,
  names: ReadonlyMap<string, string>,
): string[] {
  const lines: [string, string][] = [];
  if (assessment) {
    const { practiceNow, runNow, breakEven, chanceAboveBreakEvenNow } = assessment;
    lines.push(['Lands in practice now', rateText(practiceNow)]);
    lines.push(['Lands in a run now', rateText(runNow)]);
    const above =
      breakEven === null ? '' : `; above it already: ${formatPercent(chanceAboveBreakEvenNow)} likely`;
    lines.push(['Break-even in a run', escapeMarkdown(breakEvenText(breakEven, resetWeight)) + above]);
  }
  if (outcome && 'gains' in outcome) {
    const { gains } = outcome;
    const mean = `${formatNumber(gains.gainPerHour, rangeDecimals([gains]))} on average`;
    const seldom = isSeldom(gains) ? `: ${seldomText}` : '';
    lines.push(['Practice gains', `${formatRange(gains, 's per hour')}, ${mean}${seldom}`]);
    lines.push([
      'Best stop',
      `after ${formatHours(gains.hours)} (${formatCount(gains.blocks, 'block')} of ${formatMinutes(gains.blockMinutes)})`,
    ]);
  } else if (outcome) {
    lines.push(['Not ranked', escapeMarkdown(nameTechniques(outcome.notRanked, names))]);
  }
  return ['| | |', '|:--|:--|', ...lines.map(([label, text]) => `| ${label} | ${text} |`)];
}

/** `41 % (33 to 49 %)`: the mean with its 80 % range. */
function rateText(rate: Estimate): string {
  return `${formatPercent(rate.mean)} (${formatPercentRange(rate)})`;
}

/** Which logged attempts a technique's numbers come from, in one line. */
function evidence(
  id: string,
  { route, logs: { practice, runs } }: Pick<RankInput, 'route' | 'logs'>,
): string {
  const own = practice.filter(({ technique }) => technique === id);
  const parts = [
    ...countsOf(own, 'practice day'),
    ...countsOf(
      runs.filter(({ technique }) => technique === id),
      'run day',
    ),
  ];
  if (parts.length > 0) return `From ${formatList(parts)}. Ranges hold 80 % of what is likely.`;
  const others = route.techniques.find((technique) => technique.id === id)?.others;
  const sources = [
    'the difficulty',
    ...(others === undefined ? [] : ['other runners']),
    'what is known of the runner',
  ];
  const guess = `${formatList(sources)} give the numbers`;
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
