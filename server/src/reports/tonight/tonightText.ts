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
      ...(blocks.length > 0 ? [{ name: 'Why', text: whyText(tonight, nameOf) }] : []),
      // Nothing is said of changes before there is anything to compare with, nor of runs where all is well.
      ...(tonight.lastDay === null
        ? []
        : [{ name: 'Changed', text: changedText(tonight, tonight.lastDay, nameOf) }]),
      ...(notInRuns.length === 0 ? [] : [{ name: 'Not in runs', text: notInRunsText(notInRuns, nameOf) }]),
      ...(unused === null ? [] : [{ name: 'Unused', text: unusedText(unused, tonight.standings.length) }]),
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
function whyText({ blocks, standings }: Tonight, nameOf: (id: string) => string): string {
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
    ...choiceSentences(each, standings),
  ].join(' ');
}

/**
 * Where all of the evening is new and others could have been begun: by what the plan chooses among them. Its choice need
 * not be the first rows of the ranking, which the reader may have seen just before.
 */
function choiceSentences(each: readonly TonightBlock[], standings: readonly Standing[]): string[] {
  const isNew = ({ kind }: Standing): boolean => kind === 'not-begun';
  const chosen =
    standings.filter(isNew).length > each.length && each.every(({ standing }) => isNew(standing));
  return chosen
    ? [
        'The order need not be that of the ranking: what is learned soon saves time on every morning after that, ' +
          'so the plan begins with it.',
      ]
    : [];
}

function changedText({ changed }: Tonight, lastDay: number, nameOf: (id: string) => string): string {
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

/** Which techniques to leave out of runs, how often each lands there, and from which rate on it saves time. */
function notInRunsText(standings: readonly Standing[], nameOf: (id: string) => string): string {
  const [only] = standings;
  if (only !== undefined && standings.length === 1) {
    const { runNow, breakEven } = only;
    const why =
      breakEven === null
        ? 'it saves no time'
        : `it lands ${formatPercent(runNow)} in a run; from ${formatPercent(breakEven)} on it saves time`;
    return `Leave ${nameOf(only.technique)} out of runs for now: ${why}.`;
  }
  const told = standings.slice(0, namedAtMost);
  // The rates are explained once; the others follow the first one's pattern.
  const explained = told.find(({ breakEven }) => breakEven !== null);
  const each = told.map((standing) => {
    const { technique, breakEven, runNow } = standing;
    if (breakEven === null) return `${nameOf(technique)} (saves no time)`;
    const [lands, pays] = [formatPercent(runNow), formatPercent(breakEven)];
    return standing === explained
      ? `${nameOf(technique)} (lands ${lands} in a run, saves time from ${pays} on)`
      : `${nameOf(technique)} (${lands}, from ${pays} on)`;
  });
  const more = standings.length - told.length;
  return `Leave these out of runs for now: ${formatList(more > 0 ? [...each, `${more} more`] : each)}.`;
}
