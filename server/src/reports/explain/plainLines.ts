/** Where a technique is and what practice is expected to bring, in five plain lines. */
import { gambleText, isGamble, leastGain } from '../../model/rank/gamble.ts';
import type { RankRow } from '../../model/core/results.ts';
import { isInSet } from '../../model/core/standing.ts';
import type { Estimate, StandingKind } from '../../model/core/types.ts';
import {
  formatCount,
  formatHours,
  formatList,
  formatMinutes,
  formatPercent,
  formatPercentRange,
  formatTwoFigures,
} from '../../text/format.ts';
import { breakEvenText } from '../breakEvenText.ts';
import { othersSentence, type OthersFacts } from '../othersText.ts';

/** What practice of a technique is expected to bring. Gains in seconds. */
export type PlainGains = Pick<
  RankRow,
  'gain' | 'breakEven' | 'blocks' | 'blockMinutes' | 'hours' | 'runThen' | 'chanceCompetent'
>;

/** What the plain lines are made from. All names are names of techniques, not ids. */
export interface PlainFacts {
  /** The sentence on where the technique stands; it comes first. Undefined where there is none. */
  readonly standing?: string | undefined;
  /** Where it stands: the advice of the last line follows it. */
  readonly kind: StandingKind;
  readonly runNow: Estimate;
  readonly breakEven: number | null;
  /** See `RankRow.resetWeight`. */
  readonly resetWeight: number | null;
  /** Undefined where the technique is not ranked; `notRanked` then says why. */
  readonly gains: PlainGains | undefined;
  readonly notRanked: string | undefined;
  /** Its place in the ranking (1 is the first) and the number of ranked techniques, where all were ranked. */
  readonly place?: { readonly place: number; readonly of: number } | undefined;
  /** Undefined where it is not known which of its needs are ready. */
  readonly needs: readonly { readonly name: string; readonly ready: boolean }[] | undefined;
  /** Names of the techniques that need this one. */
  readonly opens: readonly string[];
  /** What other runners found out; null where nothing is known of any. */
  readonly others: OthersFacts | null;
}

/** The lines, each of one or two sentences; the standing, where there is one, is a line before them. */
export function plainLines(about: PlainFacts): string[] {
  return [
    ...(about.standing === undefined ? [] : [about.standing]),
    rateLine(about),
    ...(about.others === null ? [] : [othersSentence(about.others)]),
    practiceLine(about),
    certaintyLine(about),
    needsLine(about),
    adviceLine(about),
  ].filter((line) => line !== '');
}

function rateLine({ runNow, breakEven, resetWeight }: PlainFacts): string {
  const now = `It lands ${formatPercent(runNow.mean)} of the time in a run now (${formatPercentRange(runNow)}).`;
  return breakEven === null
    ? `${now} It saves nothing alone.`
    : `${now} Trying it pays from its break-even on: ${breakEvenText(breakEven, resetWeight)}.`;
}

function practiceLine({ gains, notRanked }: PlainFacts): string {
  if (!gains) return `Practice of it is not ranked. ${notRanked ?? 'No practice of it gains anything.'}`;
  const { blocks, blockMinutes, hours, gain, runThen } = gains;
  const length = `of ${formatMinutes(blockMinutes)}`;
  const practice =
    blocks === 1
      ? `One block ${length} is`
      : `${formatCount(blocks, 'daily block')} ${length} (${formatHours(hours)}) are`;
  const rate = `${practice} expected to bring it to ${formatPercent(runThen.mean)} in a run`;
  if (gains.breakEven === null) return `${rate}.`;
  return gain > leastGain
    ? `${rate} and to save ${formatTwoFigures(gain)} s.`
    : `${rate}, which changes little.`;
}

function certaintyLine({ gains }: PlainFacts): string {
  if (!gains) return '';
  const range = `In 8 of 10 cases it lands ${formatPercentRange(gains.runThen)} of the time by then.`;
  if (gains.breakEven === null) return range;
  return isGamble(gains)
    ? `That is ${gambleText(gains.chanceCompetent)}. ${range}`
    : `The chance that it pays by then is ${formatPercent(gains.chanceCompetent)}. ${range}`;
}

function needsLine({ needs, opens }: PlainFacts): string {
  if (needs === undefined) return '';
  const missing = needs.filter(({ ready }) => !ready).map(({ name }) => name);
  const ready = needs.filter((need) => need.ready).map(({ name }) => name);
  const first = [
    ...(missing.length > 0 ? [`it needs ${formatList(missing)} first`] : []),
    ...(ready.length > 0
      ? [`${formatList(ready)}, which it needs, ${ready.length > 1 ? 'are' : 'is'} ready`]
      : []),
    ...(opens.length > 0 ? [`it opens ${formatList(opens)}`] : []),
  ];
  if (first.length === 0) return 'It needs no other technique, and none needs it.';
  const text = first.join('; ');
  return `${text[0]!.toUpperCase()}${text.slice(1)}.`;
}

function adviceLine({ gains, kind, breakEven, place, needs }: PlainFacts): string {
  if (isInSet({ kind })) return setLine(kind, place);
  const triable = kind === 'in-run' && breakEven !== null;
  if (!gains) return triable ? 'Try it in runs.' : 'Practise something else.';
  const missing = (needs ?? []).filter(({ ready }) => !ready).map(({ name }) => name);
  const turn = place && `place ${place.place} of ${place.of}`;
  if (missing.length > 0)
    return `Practise ${formatList(missing)} first${turn ? `: together they have ${turn}` : ''}.`;
  if (triable) return turn ? `Try it in runs; practice of it has ${turn}.` : 'Try it in runs.';
  if (!place) return `Practise it in blocks of ${formatMinutes(gains.blockMinutes)}, one a day.`;
  if (place.place === 1) return 'Practise it next: no other practice gains more for its time.';
  return place.place <= 3 ? `Practise it soon: it has ${turn}.` : `Practise it later: it has ${turn}.`;
}

/** The advice for a technique of the practice set: it is practised whatever its place in the ranking. */
function setLine(kind: StandingKind, place: PlainFacts['place']): string {
  const ranked = place && `its practice has place ${place.place} of ${place.of}`;
  const advice =
    kind === 'again' ? 'Practise it before anything new' : 'Go on practising it: it is in the practice set';
  return `${advice}${ranked === undefined ? '' : `; ${ranked}`}.`;
}

/**
 * The needs of a technique for the plain lines.
 *
 * @param needs ids of its needs, as the route has them
 * @param openNeeds ids of what must be practised before it; undefined where that is not known
 */
export function plainNeeds(
  needs: readonly string[],
  openNeeds: readonly string[] | undefined,
  nameOf: (id: string) => string,
): PlainFacts['needs'] {
  if (needs.length === 0 && !openNeeds?.length) return [];
  return (
    openNeeds &&
    [...new Set([...openNeeds, ...needs])].map((id) => ({ name: nameOf(id), ready: !openNeeds.includes(id) }))
  );
}
