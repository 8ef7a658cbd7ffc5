import type { Standing } from '../../model/core/standing.ts';
import type { ChangedStanding } from '../../model/tonight/changedStandings.ts';
import type { PractisedTechnique } from '../../model/tonight/practisedOn.ts';
import type { Tonight, TonightBlock } from '../../model/tonight/tonight.ts';
import { nameLookup } from '../../queries/names.ts';
import { standingLabels, standingSentence } from '../../queries/standingText.ts';
import { formatWeekday } from '../../text/calendar.ts';
import { formatCount, formatList, formatMinutes, formatPercent } from '../../text/format.ts';
import { type SwapText, swapText } from '../plan/swapText.ts';
import { gambleSentences } from './blockReason.ts';
import { nothingText } from './nothingText.ts';
import type { TonightWords } from './tonightReport.ts';
import { unusedText } from './unusedText.ts';

/** A line with its name in front. */
export interface TonightLine {
  readonly name: string;
  readonly text: string;
}

/** A block as a person reads it. */
export interface TonightStep {
  readonly technique: string;
  readonly name: string;
  /** Minutes, where the quick repeat starts, and the rest after it. */
  readonly text: string;
}

/** Tonight in words. Names of techniques throughout, as in the route file. */
export interface TonightText {
  /** `Tonight, Mon 2026-11-09`. */
  readonly title: string;
  /** What to practise in one sentence, without the places; or that there is nothing, and why. */
  readonly summary: string;
  /** Why there is nothing to practise, for places that say already that there is nothing; empty where there is something. */
  readonly whyNothing: string;
  /** The blocks in their order; none if there is nothing to practise. */
  readonly steps: readonly TonightStep[];
  /** The other lines: done today, why, changed, not in runs, unused, and the caution. */
  readonly lines: readonly TonightLine[];
  readonly swaps: readonly SwapText[];
}

/** Techniques that a line names one by one; of more, it gives the number. JSON has them all. */
const namedAtMost = 4;

export function tonightText(tonight: Tonight, words: TonightWords): TonightText {
  const { caution } = words;
  const nameOf = nameLookup(words.names);
  const { blocks, done, nothing, notInRuns, unused } = tonight;
  const none = nothing && nothingText(nothing);
  return {
    title: `Tonight, ${formatWeekday(tonight.day)}`,
    summary: none === null ? summaryOf(blocks, nameOf) : `${none.opening} ${none.reason}`.trim(),
    whyNothing: none?.reason ?? '',
    steps: blocks.map(({ technique, minutes, rest }) => ({
      technique,
      name: nameOf(technique),
      text: stepText(minutes, rest, words.starts.get(technique)),
    })),
    lines: [
      ...(done.length > 0 ? [{ name: 'Done today', text: doneText(done, nameOf) }] : []),
      ...(blocks.length > 0 ? [{ name: 'Why', text: whyText(blocks, nameOf) }] : []),
      { name: 'Changed', text: changedText(tonight, nameOf) },
      { name: 'Not in runs', text: notInRunsText(notInRuns, nameOf) },
      ...(unused === null ? [] : [{ name: 'Unused', text: unusedText(unused) }]),
      ...(caution === undefined ? [] : [{ name: 'Take care', text: caution }]),
    ],
    swaps: tonight.swaps.map((offer) => swapText(offer, nameOf)),
  };
}

/** `Lamp clip and Tide skip, 25 min each.`, or `…, 4 blocks of 25 min.`; all blocks of a day have the same length. */
function summaryOf(blocks: readonly TonightBlock[], nameOf: (id: string) => string): string {
  const techniques = [...new Set(blocks.map(({ technique }) => technique))];
  const names = formatList(techniques.map(nameOf));
  const minutes = `${blocks[0]?.minutes ?? 0} min`;
  if (blocks.length > techniques.length) return `${names}, ${blocks.length} blocks of ${minutes}.`;
  return `${names}, ${minutes}${blocks.length > 1 ? ' each' : ''}.`;
}

function stepText(minutes: number, rest: number, start: string | undefined): string {
  return [
    `${minutes} min`,
    ...(start === undefined ? [] : [`from: ${start}`]),
    ...(rest > 0 ? [`then rest ${rest} min`] : []),
  ].join('; ');
}

function doneText(done: readonly PractisedTechnique[], nameOf: (id: string) => string): string {
  return `${formatList(done.map(({ technique, minutes }) => `${nameOf(technique)} ${formatMinutes(minutes)}`))}.`;
}

/** Why each technique is practised, once each: those to work on again with their cause, the others by their kind. */
function whyText(blocks: readonly TonightBlock[], nameOf: (id: string) => string): string {
  const each = [...new Map(blocks.map((block) => [block.technique, block])).values()];
  const again = each.filter(({ standing }) => standing.kind === 'again');
  const others = new Map<string, string[]>();
  for (const { technique, standing } of each) {
    if (standing.kind === 'again') continue;
    const label = standing.kind === 'not-begun' ? 'new' : standingLabels[standing.kind];
    others.set(label, [...(others.get(label) ?? []), nameOf(technique)]);
  }
  const gambles = each.flatMap(({ technique, gamble }) =>
    gamble === null ? [] : [{ name: nameOf(technique), ...gamble }],
  );
  return [
    ...again.map(
      ({ technique, standing }) =>
        `${nameOf(technique)} is to be worked on again. ${standingSentence(standing, nameOf)}`,
    ),
    ...[...others].map(
      ([label, names]) => `${formatList(names)} ${names.length === 1 ? 'is' : 'are'} ${label}.`,
    ),
    ...gambleSentences(gambles),
  ].join(' ');
}

function changedText({ lastDay, changed }: Tonight, nameOf: (id: string) => string): string {
  if (lastDay === null) return 'nothing to compare with: no entry is dated before today.';
  const since = `since the morning of ${formatWeekday(lastDay)}`;
  if (changed.length === 0) return `nothing ${since}.`;
  const told = changed.slice(0, namedAtMost).map((change) => changeSentence(change, nameOf));
  const more = changed.length - told.length;
  return [
    `${since}:`,
    ...told,
    ...(more > 0 ? [`${formatCount(more, 'technique')} more changed.`] : []),
  ].join(' ');
}

function changeSentence(
  { technique, from, to, standing }: ChangedStanding,
  nameOf: (id: string) => string,
): string {
  return `${nameOf(technique)} went from “${standingLabels[from]}” to “${standingLabels[to]}”. ${standingSentence(standing, nameOf)}`;
}

function notInRunsText(standings: readonly Standing[], nameOf: (id: string) => string): string {
  if (standings.length === 0) return 'nothing: no technique that you try or learn costs time in runs.';
  const told = standings.slice(0, namedAtMost).map(({ technique, breakEven, runNow }) => {
    const pays =
      breakEven === null
        ? 'saves nothing'
        : `lands ${formatPercent(runNow)}, pays from ${formatPercent(breakEven)}`;
    return `${nameOf(technique)} (${pays})`;
  });
  const more = standings.length - told.length;
  return `${formatList(more > 0 ? [...told, `${more} more`] : told)}.`;
}
